using System.Globalization;
using System.Text;
using CsCheck;

namespace SetupAudit.Readings;

/// <summary>However a program's bytes come, they say the same, and none of them brings the reader down.</summary>
public sealed class ProgramPiecesTests
{
    private static readonly string[] Parts =
    [
        "G0", "G1", "G2", "G54", "G55", "G59.1", "G54.1 P7", "G90", "G91", "G20", "G21", "G81", "G80", "G98", "G99", "G53",
        "G10 L2 P1", "G10 L20 P3", "G10 L10 P4 R5.", "G11", "L2 P2", "G92", "G92.1", "G52", "G38.2", "G65 P7040 Q5.",
        "M6", "T3", "T24", "M98 P100", "M30", "M99", "G43 H3", "X1.5", "X-2", "Y.25", "Z-3.125", "Z5", "R1.", "I2.", "F100.",
        "N10", "N20", "O100", "O200", "%", "/", "(note)", "(", ")", ";x", "#1=5.", "#1=#1+1", "X#1", "Z[#1*2]", "#5221=#1",
        "#[#2]=1", "IF[#1GT3]GOTO10", "GOTO20", "WHILE[#1LT3]DO1", "END1", "THEN", "U1.", "W-1.", "C90.", "E1", "--", ".", "\t",
    ];

    private static readonly string[] LineEnds = ["\n", "\r\n", "\r"];

    private static readonly Gen<string> Line = Gen.Int[0, Parts.Length - 1].Select(index => Parts[index]).Array[0, 6].Select(parts => string.Join(' ', parts));

    private static readonly Gen<string> PlainLine =
        Gen.Select(Gen.Int[0, 3], Gen.Int[-9999, 9999], Gen.Int[-9999, 9999], Gen.Bool, (g, x, z, spaced) =>
        {
            var text = string.Create(CultureInfo.InvariantCulture, $"G{g} X{x / 1000m} Z{z / 100m:0.000000000}");
            return spaced ? text : text.Replace(" ", "", StringComparison.Ordinal);
        });

    private static readonly Gen<string> Text =
        Gen.Select(Gen.OneOf(Line, PlainLine, PlainLine).Array[0, 60], Gen.Int[0, LineEnds.Length - 1], (lines, end) => string.Join(LineEnds[end], lines));

    // The head of a file is gathered whole; only what lies behind it is read in the pieces it comes in.
    private static readonly string Head = new('\n', ProgramBytes.HeadBytes);

    [Fact]
    public void Any_pieces_say_the_same() =>
        Gen.Select(Text, Gen.Int[1, 40]).Sample((text, piece) =>
        {
            var bytes = Encoding.ASCII.GetBytes(Head + text);
            Assert.Equal(ProgramFixture.Json(Programs.Read(bytes)), ProgramFixture.Json(Programs.Read(bytes, piece: piece)));
        }, iter: 150);

    [Fact]
    public void A_plain_line_says_the_same_as_when_it_is_read_word_by_word() =>
        Gen.Select(Text, Gen.Bool, Gen.Bool).Sample((text, inch, lathe) =>
        {
            var machine = Programs.Mill with
            {
                Units = inch ? Units.Unit.Inch : Units.Unit.Millimetre,
                Kind = lathe ? Shop.MachineKind.Lathe : Shop.MachineKind.Mill,
            };
            // A line that comes byte by byte takes the long way.
            var bytes = Encoding.ASCII.GetBytes(Head + text);
            Assert.Equal(
                ProgramFixture.Json(Programs.Read(bytes, machine)),
                ProgramFixture.Json(Programs.Read(bytes, machine, piece: 1)));
        }, iter: 200);

    [Fact]
    public void A_centre_alone_is_a_circle_under_a_feed_and_nothing_under_a_rapid()
    {
        foreach (var piece in new[] { 1, 1000 })
        {
            var rapid = Programs.Read(Encoding.ASCII.GetBytes(Head + "G0 X1.\nM98 P100\nI2.\nG2 X3. I1.\n"), piece: piece);
            var feed = Programs.Read(Encoding.ASCII.GetBytes(Head + "G2 X1. I1.\nM98 P100\nI2.\nX3.\n"), piece: piece);

            Assert.Equal(Head.Length + 4, rapid.Steps[^1].Line);
            Assert.Equal(Head.Length + 3, feed.Steps[^1].Line);
        }
    }

    [Fact]
    public void No_bytes_bring_the_reader_down() =>
        Gen.Byte.Array[0, 600].Sample(bytes =>
        {
            var text = Programs.Read(bytes);
            Assert.Equal(Convert.ToHexStringLower(System.Security.Cryptography.SHA256.HashData(bytes)), text.Sha256);
        }, iter: 1000);

    [Fact]
    public void No_words_bring_the_reader_or_the_shelf_down() =>
        Text.Array[1, 4].Sample(texts =>
        {
            var shelf = new ProgramShelf();
            foreach (var text in texts) shelf.Add(Programs.Read(text));
            foreach (var name in shelf.Names) Assert.NotNull(shelf.Scope(name, Programs.Modified));
        }, iter: 200);
}
