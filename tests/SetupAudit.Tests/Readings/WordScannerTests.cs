using System.Text;
using CsCheck;
using SetupAudit.Support;

namespace SetupAudit.Readings;

public sealed class WordScannerTests
{
    [Theory]
    [InlineData("G1 X-12.5", "G=1 X=-12.5")]
    [InlineData("g1x-12.5y+.5", "G=1 X=-12.5 Y=+.5")]
    [InlineData("/N10 G1", "/ N=10 G=1")]
    [InlineData("/3N10", "/ N=10")]
    [InlineData("%\nO1234(TITLE)", "% | O=1234 (TITLE)")]
    [InlineData(":1234", ":=1234")]
    [InlineData("X1 ; rest (of it", "X=1 ( rest (of it)")]
    [InlineData("G1 X10. ,R2. Y3", "G=1 X=10. ,R=2. Y=3")]
    [InlineData("X[#510+1.5] Y#7 Z-#[2+3] A##4", "X=[#510+1.5] Y=#7 Z=-#[2+3] A=##4")]
    [InlineData("X SIN[30] Yatan[1]/[2]Z1", "X=SIN[30] Y=atan[1]/[2] Z=1")]
    [InlineData("#501 = 2", "#501:=2")]
    [InlineData("#[#1+2]=[3*4] X1", "#[#1+2]:=[3*4] X=1")]
    [InlineData("#1=#2+1.5*-#3", "#1:=#2+1.5*-#3")]
    [InlineData("#<depth> = 3 Z#<depth>", "#<depth>:=3 Z=#<depth>")]
    [InlineData("#3=6 G1 x#3", "#3:=6 G=1 X=#3")]
    [InlineData("IF[#1 EQ 2]GOTO10", "IF[#1 EQ 2] GOTO10")]
    [InlineData("WHILE[#1LT2]DO1\nEND1", "WHILE[#1LT2] DO1 | END1")]
    [InlineData("IF[#1]THEN#2=3", "IF[#1] THEN #2:=3")]
    [InlineData("POPEN\nBPRNT[SIZE#100[53]]\nPCLOS", "POPEN | BPRNT[SIZE#100[53]] | PCLOS")]
    public void A_line_is_taken_apart(string text, string tokens) => Assert.Equal(tokens, Tokens(text));

    [Theory]
    [InlineData("X--5", 3, "X has no number")]
    [InlineData("Z.", 3, "Z has no number")]
    [InlineData("G1 XY5", 5, "X has no number")]
    [InlineData("X1..2", 4, "\".\" stands where a word")]
    [InlineData("X[1+2", 2, "a bracket opens here and is not closed")]
    [InlineData("X1]", 3, "\"]\" stands where a word")]
    [InlineData("(open", 1, "a comment opens here and is not closed")]
    [InlineData("(a (b) c)", 4, "a parenthesis opens inside a comment")]
    [InlineData("#", 2, "the end of the file stands where the number of a parameter")]
    [InlineData("#5", 3, "the end of the file stands where = was expected")]
    [InlineData("#5=", 4, "a value was expected behind =")]
    [InlineData(",5", 1, "a comma stands here without a word")]
    [InlineData("G1 \u00e9", 4, "a byte of value 195 stands")]
    [InlineData("X#<name", 3, "a name opens with <")]
    [InlineData("X123456789012345678", 2, "the number of X has more than 17 digits")]
    [InlineData("IF", 3, "a value was expected behind this word")]
    public void What_is_no_word_is_a_fault_and_the_next_line_is_read(string line, int column, string reason)
    {
        var scanner = new WordScanner(Encoding.UTF8.GetBytes(line));
        while (scanner.Read() && scanner.Kind != WordKind.Fault) Assert.NotEqual(WordKind.EndOfLine, scanner.Kind);
        Assert.Equal((1, column), (scanner.Line, scanner.Column));
        Assert.StartsWith(reason, scanner.Reason, StringComparison.Ordinal);

        Assert.EndsWith("| X=7", Tokens(line + "\nX7"), StringComparison.Ordinal);
    }

    [Fact]
    public void Lines_and_columns_count_from_one_whatever_ends_a_line()
    {
        var found = new List<(char, int, int)>();
        var scanner = new WordScanner("X1\rY2\n\n  Z3\r\nA4 B5"u8, firstLine: 10);
        while (scanner.Read())
            if (scanner.Kind == WordKind.Word) found.Add((scanner.Letter, scanner.Line, scanner.Column));
        Assert.Equal([('X', 10, 1), ('Y', 11, 1), ('Z', 13, 3), ('A', 14, 1), ('B', 14, 4)], found);
        Assert.True(scanner.LineEndMissing);
    }

    [Fact]
    public void A_text_given_in_pieces_gives_the_same_tokens() =>
        Gen.Select(Gen.String[Gen.Char["GXYP0123456789.-#[]=()/%; "], 0, 30].Array[1, 6], Gen.Int[0, 6]).Sample((lines, cut) =>
        {
            var first = string.Concat(lines.Take(cut).Select(line => line + "\n"));
            var second = string.Join('\n', lines.Skip(cut));
            Assert.Equal(
                Places(first + second, 1), [.. Places(first, 1), .. Places(second, 1 + Math.Min(cut, lines.Length))]);
        });

    [Theory]
    [InlineData(' ')]
    [InlineData('1')]
    [InlineData('(')]
    [InlineData('[')]
    [InlineData('#')]
    [InlineData('G')]
    [InlineData('-')]
    [InlineData(',')]
    public void A_line_that_no_block_can_be_is_one_fault(char filler)
    {
        var bytes = new byte[8_000_000];
        bytes.AsSpan().Fill((byte)filler);
        bytes[0] = (byte)'X';
        var faults = 0;
        var scanner = new WordScanner(bytes);
        while (scanner.Read())
            if (scanner.Kind == WordKind.Fault) faults++;
        Assert.Equal(1, faults);
    }

    [Fact]
    public void Words_on_an_endless_line_stop_at_its_limit()
    {
        var scanner = new WordScanner(Encoding.ASCII.GetBytes(string.Concat(Enumerable.Repeat("X1 ", 100_000)) + "\nY2\n"));
        var words = 0;
        var letter = ' ';
        while (scanner.Read())
        {
            if (scanner.Kind != WordKind.Word) continue;
            words++;
            letter = scanner.Letter;
        }
        Assert.InRange(words, WordScanner.LineMostBytes / 3, WordScanner.LineMostBytes / 3 + 3);
        Assert.Equal('Y', letter);
    }

    [Fact]
    public void Public_programs_hold_nothing_that_is_no_word()
    {
        // NC programs of the NIST Smart Manufacturing Systems test bed, public information.
        foreach (var file in Directory.GetFiles(Reference.At("nist-sms-programs"), "*.nc"))
        {
            var scanner = new WordScanner(PlainText.Of(File.ReadAllBytes(file)).Bytes);
            while (scanner.Read())
                Assert.False(scanner.Kind == WordKind.Fault,
                    $"{Path.GetFileName(file)} line {scanner.Line} column {scanner.Column}: {scanner.Reason}");
            Assert.True(scanner.Line > 10);
        }
    }

    /// <summary>The tokens with a blank between, " | " for an end of line but the last.</summary>
    private static string Tokens(string text)
    {
        var tokens = new StringBuilder();
        var scanner = new WordScanner(Encoding.UTF8.GetBytes(text));
        while (scanner.Read())
        {
            if (scanner.Kind == WordKind.EndOfLine && scanner.LineEndMissing) break;
            if (tokens.Length > 0) tokens.Append(' ');
            tokens.Append(Token(scanner));
        }
        return tokens.ToString();
    }

    private static List<(WordKind, int, int, string)> Places(string text, int firstLine)
    {
        var places = new List<(WordKind, int, int, string)>();
        var scanner = new WordScanner(Encoding.UTF8.GetBytes(text), firstLine);
        while (scanner.Read()) places.Add((scanner.Kind, scanner.Line, scanner.Column, Token(scanner)));
        return places;
    }

    private static string Token(in WordScanner scanner)
    {
        var value = Encoding.UTF8.GetString(scanner.Value);
        return scanner.Kind switch
        {
            WordKind.Word => $"{(scanner.AfterComma ? "," : "")}{scanner.Letter}={value}",
            WordKind.Setting => $"#{Encoding.UTF8.GetString(scanner.Target)}:={value}",
            WordKind.Keyword => Encoding.UTF8.GetString(scanner.Target) + value,
            WordKind.Comment => $"({value})",
            WordKind.BlockDelete => "/",
            WordKind.Percent => "%",
            WordKind.EndOfLine => "|",
            _ => $"fault at {scanner.Column}",
        };
    }
}
