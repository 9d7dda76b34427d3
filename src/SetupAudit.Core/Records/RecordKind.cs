namespace SetupAudit.Records;

/// <summary>What an entry of the record is about.</summary>
public enum RecordKind
{
    /// <summary>The first entry: which record this is and whose key signs it.</summary>
    Begin,

    /// <summary>Rows that were written with this transaction, by their digest.</summary>
    Rows,

    /// <summary>A file, or a piece of one, that was taken in.</summary>
    Arrival,

    /// <summary>A finding raised, changed, withdrawn or raised again.</summary>
    Finding,

    /// <summary>What became of an alert.</summary>
    Alert,

    /// <summary>A person's verdict on a setup.</summary>
    Review,

    /// <summary>A person added, locked, or given another role or password.</summary>
    Person,

    /// <summary>A name and password that were given, rightly or wrongly.</summary>
    SignIn,

    /// <summary>Another configuration than the one before.</summary>
    Configuration,

    Start,

    Stop,

    /// <summary>Something given out of the record, such as a bundle.</summary>
    Export,

    /// <summary>Another key signs from here on.</summary>
    Key,

    /// <summary>A copy kept, brought back or pruned.</summary>
    Keeping,
}
