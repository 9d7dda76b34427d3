using System.Globalization;
using System.Text;

namespace SetupAudit.Alerts.Support;

/// <summary>Texts with which a share may try to say more than a line may hold.</summary>
internal static class HostileText
{
    public static TheoryData<string> All { get; } =
    [
        "a\r\nBcc: everyone@example.com\r\n\r\nSpend this",
        "a\nX-Injected: yes",
        "a\rX-Injected: yes",
        "a\0b",
        "a\u0085b\u2028c\u2029d",
        "good \u202Edab\u202C \u2066isolated\u2069 \u200F",
        "</p><script>alert(1)</script><img src=x onerror=alert(1)>",
        "\"><a href=\"javascript:alert(1)\">look</a>",
        "&lt;b&gt; &#0; &#x202e; ]]>",
        "=?utf-8?B?DQpCY2M6IGV2ZXJ5b25lQGV4YW1wbGUuY29t?=",
        "=?utf-8?Q?=0D=0ABcc:_everyone@example.com?= =?",
        "\r\n.\r\nMAIL FROM:<a@example.com>\r\n",
        "] injected=\"yes\"][other@1 a=\"b\"] \\\\ \\\" \"",
        "<0>1 2026-03-02T07:14:00Z host app - - - forged",
        "12 <0>1 - - - - - - forged",
        "\uD800 lone \uDC00",
        "\uFEFF\u200B\u00AD\u061C\u180E hidden \U000E0041\U000E0042",
        "\x1b[31mred\x1b[0m\x07\b\b\x7f",
        "😀" + new string('x', 20_000),
        string.Concat(Enumerable.Repeat("]\\\"", 5_000)),
        string.Concat(Enumerable.Repeat("é\u0301", 3_000)),
    ];

    /// <summary>Fails where a text holds a sign that moves a cursor, turns the direction, breaks a line or vanishes.</summary>
    public static void Shows(string text)
    {
        foreach (var rune in text.EnumerateRunes())
            Assert.False(
                Rune.GetUnicodeCategory(rune) is UnicodeCategory.Control or UnicodeCategory.Format
                    or UnicodeCategory.LineSeparator or UnicodeCategory.ParagraphSeparator,
                $"U+{rune.Value:X4} in: {text}");
    }
}
