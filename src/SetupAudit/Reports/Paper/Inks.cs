using PdfSharp.Drawing;

namespace SetupAudit.Reports.Paper;

/// <summary>The inks of the style sheet, on paper.</summary>
internal static class Inks
{
    public static XColor Ink { get; } = XColor.FromArgb(0x14, 0x17, 0x1a);

    public static XColor Soft { get; } = XColor.FromArgb(0x5b, 0x63, 0x6b);

    public static XColor Line { get; } = XColor.FromArgb(0xd5, 0xd9, 0xdd);

    public static XColor Wash { get; } = XColor.FromArgb(0xf4, 0xf5, 0xf6);

    public static XColor Alarm { get; } = XColor.FromArgb(0xb3, 0x26, 0x1e);

    public static XColor AlarmWash { get; } = XColor.FromArgb(0xfc, 0xf1, 0xf0);

    public static XColor Stock { get; } = XColor.FromArgb(0xe9, 0xeb, 0xed);

    public static XColor Edge { get; } = XColor.FromArgb(0xa9, 0xb0, 0xb7);

    public static XColor White { get; } = XColor.FromArgb(0xff, 0xff, 0xff);
}
