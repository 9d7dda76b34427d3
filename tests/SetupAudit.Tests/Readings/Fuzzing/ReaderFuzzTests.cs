using System.Globalization;
using System.Security.Cryptography;
using CsCheck;
using SetupAudit.Support;

namespace SetupAudit.Readings.Fuzzing;

/// <summary>
/// Files as nobody means them, made from the fixtures: no reader throws, runs away or says more than the file holds, and
/// every place it names is in the file. Few here; tests/nightly/fuzz.sh runs as many as it is asked to.
/// </summary>
public sealed class ReaderFuzzTests
{
    private const int AllocatedLeast = 8 * 1024 * 1024;

    private static readonly Gen<Mutation> Mutations = Gen.Select(
        Gen.Int[0, Enum.GetValues<MutationKind>().Length - 1], Gen.UShort, Gen.UShort, Gen.UShort,
        (kind, where, size, pick) => new Mutation((MutationKind)kind, where, size, pick));

    public static TheoryData<string> Readers { get; } = [.. FuzzTarget.All.Select(target => target.Name)];

    // 20,000 inputs, split evenly.
    private static long Inputs => long.Parse(
        Environment.GetEnvironmentVariable("SETUPAUDIT_FUZZ") ?? "20000", CultureInfo.InvariantCulture) / FuzzTarget.All.Count;

    [Theory]
    [MemberData(nameof(Readers))]
    public void No_input_makes_a_reader_throw_run_away_or_name_a_place_that_is_not_there(string reader)
    {
        var target = FuzzTarget.All.Single(one => one.Name == reader);
        var corpus = Corpus(target.Corpus);
        var inputs = Gen.Select(Gen.Int[0, corpus.Count - 1], Mutations.Array[0, 6], Gen.Int[0, 999]);
        inputs.Sample(input =>
        {
            var (file, mutations, pick) = input;
            var bytes = Mutator.Apply(corpus[file], mutations, corpus);
            Check(target, bytes, pick);
        }, iter: Inputs, threads: 1, print: input => Kept(target, corpus, input.Item1, input.Item2, input.Item3));
    }

    [Theory]
    [InlineData("data-setting")]
    [InlineData("parameters")]
    [InlineData("table")]
    [InlineData("print-out")]
    public void What_stands_before_a_damaged_line_is_read_as_if_the_damage_were_not_there(string reader)
    {
        var target = FuzzTarget.All.Single(one => one.Name == reader);
        // Filler and characters of eight bits change how the whole of a file is read, from its first line on.
        var corpus = Corpus(target.Corpus).Where(file => file.All(code => code is > 8 and < 0x7F)).ToList();
        var inputs = Gen.Select(Gen.Int[0, corpus.Count - 1], Gen.UShort, Mutations.Array[1, 4], Gen.Int[0, 999]);
        inputs.Sample(input =>
        {
            var (file, where, mutations, pick) = input;
            var start = corpus[file].AsSpan(0, (int)((long)where * corpus[file].Length >> 16)).LastIndexOf((byte)'\n') + 1;
            var damaged = Mutator.Apply(corpus[file][start..], mutations, corpus).Select(code => (byte)(code % 96 + 32)).ToArray();

            var before = target.Read(corpus[file][..start], pick).Said;
            var after = target.Read([.. corpus[file][..start], .. damaged], pick).Said;

            Assert.Equal(before, after.Take(before.Count));
        }, iter: Inputs / 4, threads: 1);
    }

    private static void Check(FuzzTarget target, byte[] bytes, int pick)
    {
        var before = GC.GetAllocatedBytesForCurrentThread();
        var outcome = target.Read(bytes, pick);
        var allocated = GC.GetAllocatedBytesForCurrentThread() - before;

        // Work is counted by what it allocates: a reader whose work grows faster than the file allocates too.
        Assert.InRange(allocated, 0, AllocatedLeast + (long)target.AllocatedPerByte * bytes.Length);
        var lines = LinesOf(bytes);
        Assert.All(outcome.Places, place =>
        {
            Assert.InRange(place.Line, 0, lines + 1);
            // Columns count in the text as UTF-8, where two bytes of a wide file may become three.
            Assert.InRange(place.Column, 0, bytes.Length * 3 / 2 + 1);
        });
        Assert.InRange(outcome.Said.Count, 0, Math.Max(1, bytes.Length * 4));
        Assert.InRange(outcome.Faults, 0, bytes.Length + 1);
    }

    // LF, CR or both end a line: counted so that none is missed, also where a character has two bytes.
    private static int LinesOf(byte[] bytes) => 1 + bytes.Count(code => code is (byte)'\n' or (byte)'\r' or 0x8D or 0x0A);

    private static IReadOnlyList<byte[]> Corpus(string folder) =>
    [
        .. Directory.GetFiles(Repository.At($"fixtures/{folder}"))
            .Where(file => !file.EndsWith(".expected.json", StringComparison.Ordinal)
                && !file.EndsWith(".machine.json", StringComparison.Ordinal))
            .Order(StringComparer.Ordinal).Select(File.ReadAllBytes),
    ];

    // What failed is kept as a file, so that it can become a fixture.
    private static string Kept(
        FuzzTarget target, IReadOnlyList<byte[]> corpus, int file, Mutation[] mutations, int pick)
    {
        var bytes = Mutator.Apply(corpus[file], mutations, corpus);
        var folder = Directory.CreateDirectory(Path.Join(Repository.At("artifacts"), "fuzz")).FullName;
        var name = Path.Join(folder, $"{target.Name}-{Convert.ToHexStringLower(SHA256.HashData(bytes))[..12]}");
        File.WriteAllBytes(name, bytes);
        return string.Create(CultureInfo.InvariantCulture, $"{name} (pick {pick}): {string.Join("; ", mutations)}");
    }
}
