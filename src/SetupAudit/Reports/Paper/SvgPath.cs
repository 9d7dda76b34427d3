using System.Globalization;
using System.Text.RegularExpressions;
using PdfSharp.Drawing;

namespace SetupAudit.Reports.Paper;

/// <summary>
/// Reads the data of a path of straight lines: M, L, H, V and Z, in small letters from the last point on.
/// </summary>
internal static partial class SvgPath
{
    public static XGraphicsPath Read(string data)
    {
        var path = new XGraphicsPath();
        var (at, command) = (new XPoint(0, 0), 'M');
        var words = Words().Matches(data);
        for (var index = 0; index < words.Count;)
        {
            if (char.IsLetter(words[index].ValueSpan[0])) command = words[index++].ValueSpan[0];
            if (char.ToUpperInvariant(command) == 'Z')
            {
                path.CloseFigure();
                continue;
            }
            var from = char.IsLower(command) ? at : new XPoint(0, 0);
            var to = char.ToUpperInvariant(command) switch
            {
                'H' => new XPoint(from.X + Next(), at.Y),
                'V' => new XPoint(at.X, from.Y + Next()),
                _ => new XPoint(from.X + Next(), from.Y + Next()),
            };
            if (char.ToUpperInvariant(command) == 'M')
            {
                path.StartFigure();
                command = char.IsLower(command) ? 'l' : 'L';
            }
            else path.AddLine(at, to);
            at = to;

            double Next() => double.Parse(words[index++].ValueSpan, CultureInfo.InvariantCulture);
        }
        return path;
    }

    [GeneratedRegex(@"[A-Za-z]|-?[0-9]*\.?[0-9]+", RegexOptions.NonBacktracking | RegexOptions.CultureInvariant)]
    private static partial Regex Words();
}
