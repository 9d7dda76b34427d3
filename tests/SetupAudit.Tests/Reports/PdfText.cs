using System.Diagnostics;
using System.Globalization;
using System.Xml.Linq;
using SetupAudit.Support;

namespace SetupAudit.Reports;

/// <summary>Reads a .pdf with another program than the one that wrote it.</summary>
internal static class PdfText
{
    /// <summary>The words of each page with the corners of the boxes they fill, in points from the upper left.</summary>
    public static IReadOnlyList<PdfPage> Read(byte[] pdf)
    {
        var program = Tool.At("pdftotext");
        using var run = Process.Start(new ProcessStartInfo(program, ["-bbox", "-enc", "UTF-8", "-", "-"])
        {
            RedirectStandardInput = true,
            RedirectStandardOutput = true,
            RedirectStandardError = true,
        }) ?? throw new InvalidOperationException("pdftotext did not start");
        var errors = run.StandardError.ReadToEndAsync(TestContext.Current.CancellationToken);
        run.StandardInput.BaseStream.Write(pdf);
        run.StandardInput.Close();
        var text = run.StandardOutput.ReadToEnd();
        run.WaitForExit();
        Assert.Equal("", errors.GetAwaiter().GetResult().Trim());
        // Its own document type names a file on the net.
        var start = text.IndexOf("<html", StringComparison.Ordinal);
        return
        [
            .. XElement.Parse(text[start..]).Descendants().Where(element => element.Name.LocalName == "page").Select(page =>
                new PdfPage(Number(page, "width"), Number(page, "height"),
                [
                    .. page.Elements().Where(element => element.Name.LocalName == "word").Select(word => new PdfWord(
                        word.Value, Number(word, "xMin"), Number(word, "yMin"), Number(word, "xMax"), Number(word, "yMax"))),
                ])),
        ];
    }

    private static double Number(XElement element, string name) =>
        double.Parse((string?)element.Attribute(name) ?? "", CultureInfo.InvariantCulture);
}

internal sealed record PdfPage(double Width, double Height, IReadOnlyList<PdfWord> Words);

internal sealed record PdfWord(string Text, double Left, double Top, double Right, double Bottom);
