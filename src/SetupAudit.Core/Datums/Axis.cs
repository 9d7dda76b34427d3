namespace SetupAudit.Datums;

/// <summary>The axes a register can hold. R is the register's rotation, in degrees.</summary>
public enum Axis
{
    X,
    Y,
    Z,
    A,
    B,
    C,
    U,
    V,
    W,
    R,
}
