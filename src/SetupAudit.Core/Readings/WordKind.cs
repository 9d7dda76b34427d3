namespace SetupAudit.Readings;

/// <summary>What the scanner found in a block of ISO 6983 / RS-274 words.</summary>
public enum WordKind
{
    None,

    /// <summary>A letter and its value: a number, or an expression or parameter to be worked out.</summary>
    Word,

    /// <summary>A parameter write: <c>#501 = 2</c>.</summary>
    Setting,

    /// <summary>
    /// A flow or print word of parameter programs, such as IF, WHILE, GOTO, with the value behind it if any.
    /// </summary>
    Keyword,

    /// <summary>A comment, in parentheses or from a semicolon to the end of the line.</summary>
    Comment,

    /// <summary>The block delete: what follows on the line depends on a switch at the machine.</summary>
    BlockDelete,

    /// <summary>The mark that opens and closes a tape or file.</summary>
    Percent,

    EndOfLine,

    /// <summary>Something that is none of these; the rest of its line is passed over.</summary>
    Fault,
}
