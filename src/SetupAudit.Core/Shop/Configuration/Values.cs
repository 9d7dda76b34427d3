using System.Globalization;
using SetupAudit.Datums;
using SetupAudit.Units;

namespace SetupAudit.Shop.Configuration;

/// <summary>The kinds of value that more than one section of the configuration uses.</summary>
internal static class Values
{
    public const string Positive = "a number above 0";
    private const string SpanSample = "a time span such as 00:00:02 (hours:minutes:seconds)";

    public static TypedShape<string> Text { get; } = new("text", ReadText);

    /// <summary>Text, with words of its own for what is allowed.</summary>
    public static TypedShape<string> TextAs(string allowed) => new(allowed, ReadText);

    /// <summary>The name of a zone of the time zone database.</summary>
    public static TypedShape<string> TimeZone { get; } = TextAs("the name of a time zone, such as Europe/London");

    public static TypedShape<string> Path { get; } = new("a path, relative to this file's folder or full", ReadPath);

    public static TypedShape<bool> Truth { get; } = new("true or false", ReadTruth);

    public static TypedShape<decimal> Number { get; } = new("a number", ReadNumber);

    public static TypedShape<decimal> NumberAbove0 { get; } =
        new(Positive, Where<decimal>(ReadNumber, value => value > 0));

    public static TypedShape<decimal> NumberFrom0 { get; } =
        new("a number, 0 or more", Where<decimal>(ReadNumber, value => value >= 0));

    public static TypedShape<Bounds> Range { get; } =
        new("two numbers, the lower first, such as [-800, 0]", ReadRange);

    public static TypedShape<TimeSpan> Span { get; } =
        new(SpanSample, Where<TimeSpan>(ReadSpan, value => value >= TimeSpan.Zero));

    public static TypedShape<TimeSpan> SpanAbove0 { get; } =
        new(SpanSample + ", above 0", Where<TimeSpan>(ReadSpan, value => value > TimeSpan.Zero));

    public static TypedShape<TimeSpan> SignedSpan { get; } =
        new("a time span such as 01:00:00 or -00:00:30 (hours:minutes:seconds)", ReadSpan);

    public static TypedShape<Register> Register { get; } =
        new("a register: G54 ... G59, G59.1 ... G59.3, G54.1 Pn, COMMON or G92", ReadRegister);

    public static TypedShape<IReadOnlyList<Axis>> Axes { get; } =
        new("the letters of axes, each once, such as XYZ", ReadAxes);

    public static TypedShape<char> Letter { get; } = new("one letter, such as Q", ReadLetter);

    public static TypedShape<Unit> LengthUnit { get; } = Words(("mm", Unit.Millimetre), ("inch", Unit.Inch));

    /// <summary>The axes a register holds.</summary>
    public static IReadOnlyList<string> AxisNames { get; } = Enum.GetNames<Axis>();

    /// <summary>The axes a machine moves in: a register's rotation is none.</summary>
    public static IReadOnlyList<string> MovingAxisNames { get; } = [.. AxisNames.Where(name => name != nameof(Axis.R))];

    public static TypedShape<int> Whole(int low, int high) => new(
        string.Create(CultureInfo.InvariantCulture, $"a whole number from {low} to {high}"),
        Where((ConfigNode node, out int value) => ReadWhole(node, out value), value => value >= low && value <= high));

    /// <summary>One of a few words.</summary>
    public static TypedShape<T> Words<T>(params (string Word, T Value)[] words) => new(
        Wording.Or([.. words.Select(pair => pair.Word)]),
        (ConfigNode node, out T value) =>
        {
            var index = node.Kind == ConfigKind.Text ? Array.FindIndex(words, pair => pair.Word == node.Text) : -1;
            value = index < 0 ? words[0].Value : words[index].Value;
            return index >= 0;
        });

    /// <summary>Words that stand for themselves.</summary>
    public static TypedShape<string> Words(params string[] words) => Words([.. words.Select(word => (word, word))]);

    /// <summary>The values of an object whose keys are axes.</summary>
    public static Dictionary<Axis, T> ByAxis<T>(TypedShape<T> shape, ConfigNode? node)
    {
        var values = new Dictionary<Axis, T>();
        foreach (var member in node?.Members ?? [])
            if (AxisNames.Contains(member.Name) && shape.TryRead(member.Value, out var value))
                values[Enum.Parse<Axis>(member.Name)] = value;
        return values;
    }

    private static ReadValue<T> Where<T>(ReadValue<T> read, Func<T, bool> holds) =>
        (ConfigNode node, out T value) => read(node, out value) && holds(value);

    private static bool ReadText(ConfigNode node, out string value)
    {
        value = node.Text;
        return node.Kind == ConfigKind.Text && !string.IsNullOrWhiteSpace(value);
    }

    private static bool ReadPath(ConfigNode node, out string value) =>
        ReadText(node, out value) && !value.AsSpan().ContainsAnyInRange('\0', '\x1f');

    private static bool ReadTruth(ConfigNode node, out bool value)
    {
        value = node.Text == "true";
        return node.Kind == ConfigKind.Truth;
    }

    private static bool ReadNumber(ConfigNode node, out decimal value)
    {
        value = 0;
        return node.Kind == ConfigKind.Number
            && decimal.TryParse(node.Text, NumberStyles.Float, CultureInfo.InvariantCulture, out value);
    }

    private static bool ReadWhole(ConfigNode node, out int value)
    {
        value = 0;
        return node.Kind == ConfigKind.Number
            && int.TryParse(node.Text, NumberStyles.AllowLeadingSign, CultureInfo.InvariantCulture, out value);
    }

    private static bool ReadRange(ConfigNode node, out Bounds value)
    {
        value = default;
        if (node.Kind != ConfigKind.List || node.Items.Count != 2) return false;
        if (!ReadNumber(node.Items[0], out var low) || !ReadNumber(node.Items[1], out var high)) return false;
        value = new Bounds(low, high);
        return low <= high;
    }

    private static bool ReadSpan(ConfigNode node, out TimeSpan value)
    {
        value = TimeSpan.Zero;
        return node.Kind == ConfigKind.Text && SpanText.TryParse(node.Text, out value);
    }

    private static bool ReadRegister(ConfigNode node, out Register value)
    {
        value = default;
        return node.Kind == ConfigKind.Text && Datums.Register.TryParse(node.Text, out value);
    }

    private static bool ReadAxes(ConfigNode node, out IReadOnlyList<Axis> value)
    {
        value = [];
        if (node.Kind != ConfigKind.Text || node.Text.Length == 0) return false;
        var axes = new List<Axis>();
        foreach (var letter in node.Text)
        {
            if (!Enum.TryParse<Axis>(letter.ToString(), out var axis) || !char.IsAsciiLetterUpper(letter)) return false;
            if (axes.Contains(axis)) return false;
            axes.Add(axis);
        }
        value = axes;
        return true;
    }

    private static bool ReadLetter(ConfigNode node, out char value)
    {
        value = node.Text.Length == 1 ? node.Text[0] : ' ';
        return node.Kind == ConfigKind.Text && char.IsAsciiLetterUpper(value);
    }
}
