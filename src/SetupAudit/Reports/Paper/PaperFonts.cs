using PdfSharp.Fonts;

namespace SetupAudit.Reports.Paper;

/// <summary>
/// The faces of a report on paper. They come with the program: a server often has none, and a report must look the same
/// wherever it is made. Only the letters that are used go into the file.
/// </summary>
internal sealed class PaperFonts : IFontResolver
{
    public const string Sans = "report sans";
    public const string Mono = "report mono";

    private const string Regular = "LiberationSans-Regular";
    private const string Bold = "LiberationSans-Bold";
    private const string Fixed = "LiberationMono-Regular";

    private static readonly Lock Gate = new();

    /// <summary>Tells the library of them, once in a process.</summary>
    public static void Use()
    {
        lock (Gate)
            if (GlobalFontSettings.FontResolver is not PaperFonts)
                GlobalFontSettings.FontResolver = new PaperFonts();
    }

    public FontResolverInfo? ResolveTypeface(string familyName, bool isBold, bool isItalic) => familyName switch
    {
        Mono => new FontResolverInfo(Fixed),
        Sans => new FontResolverInfo(isBold ? Bold : Regular),
        _ => null,
    };

    public byte[]? GetFont(string faceName)
    {
        using var file = typeof(PaperFonts).Assembly.GetManifestResourceStream($"SetupAudit.Fonts.{faceName}.ttf");
        if (file is null) return null;
        var bytes = new byte[file.Length];
        file.ReadExactly(bytes);
        return bytes;
    }
}
