namespace SetupAudit.Readings;

/// <summary>The functions of RS274/NGC (3.3.2.4) of one argument; ATAN, which has two, stands apart.</summary>
internal enum ExpressionFunction
{
    Abs,
    Acos,
    Asin,
    Cos,
    Exp,
    Fix,
    Fup,
    Ln,
    Round,
    Sin,
    Sqrt,
    Tan,
}
