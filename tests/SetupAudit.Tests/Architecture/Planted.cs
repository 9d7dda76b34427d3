// Small rooms that break the table in each way there is: what the check must find, so that its silence means something.
namespace SetupAudit.Architecture.Planted.Low
{
    internal static class Floor
    {
        public static int Height => 0;
    }

    internal sealed class LooksUp
    {
        public High.Ceiling? Above { get; init; }
    }

    internal static class LooksUpInsideALambda
    {
        public static Func<Task<int>> Later() => async () =>
        {
            await Task.Yield();
            return High.Ceiling.Height;
        };
    }

    internal static class UsesAPackage
    {
        public static FluentValidation.CascadeMode Mode() => FluentValidation.CascadeMode.Stop;
    }
}

namespace SetupAudit.Architecture.Planted.High
{
    internal sealed class Ceiling
    {
        public static int Height => Low.Floor.Height + 3;
    }
}

namespace SetupAudit.Architecture.Planted.Highest
{
    internal static class Roof
    {
        public static int Height => High.Ceiling.Height;
    }
}

namespace SetupAudit.Architecture.Planted
{
    internal static class Stairs
    {
        public static int Height => High.Ceiling.Height + Highest.Roof.Height;
    }
}
