namespace SetupAudit.People;

/// <summary>How a name and a password turned out, as it is kept.</summary>
public static class SignInOutcome
{
    public const string Right = "right";
    public const string Wrong = "wrong";
    public const string Locked = "locked";
    public const string Unknown = "unknown name";
}
