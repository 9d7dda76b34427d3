namespace SetupAudit.Readings;

/// <summary>
/// What joins two values. RS274/NGC (3.3.2.3) binds ** first, then * / MOD, then the rest down to AND; the comparisons,
/// which bind last, are common practice (no source).
/// </summary>
internal enum ExpressionOperator
{
    Power,
    Multiply,
    Divide,
    Remainder,
    Add,
    Subtract,
    Or,
    ExclusiveOr,
    And,
    Equal,
    NotEqual,
    Greater,
    GreaterOrEqual,
    Less,
    LessOrEqual,
}
