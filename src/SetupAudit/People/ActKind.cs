namespace SetupAudit.People;

/// <summary>What a person asks to be kept.</summary>
public enum ActKind
{
    /// <summary>A verdict on a setup.</summary>
    Review,

    /// <summary>Somebody is added.</summary>
    Add,

    /// <summary>Somebody may sign no more.</summary>
    Lock,

    /// <summary>Somebody gives themselves another password.</summary>
    Password,

    /// <summary>A name and a password that did not fit.</summary>
    SignIn,
}
