using System.Text.Json;
using SetupAudit.Datums;

namespace SetupAudit.Shapes;

/// <summary>An offset as it stood at a moment: the change that brought it, and one that may have come.</summary>
/// <param name="Brought">The last change that had certainly happened.</param>
/// <param name="Maybe">
/// The next change, where the moment lies between the last sight of the old value and the first of the new: either
/// value may have stood.
/// </param>
public sealed record StandingView(ChangeView Brought, ChangeView? Maybe)
{
    public OffsetKey Key => Brought.Key;

    /// <summary>Null where the control is known to have held none.</summary>
    public decimal? Value => Brought.After;

    internal static void Write(Utf8JsonWriter json, StandingView view)
    {
        json.Number("value", view.Value);
        json.Unit("unit", view.Brought.Unit);
        json.Time("at", view.Brought.ToUtc);
        json.Time("from", view.Brought.FromUtc);
        json.Text("by", Word.Of(view.Brought.By));
        json.Text("change", view.Brought.Change);
        json.Text("setup", view.Brought.Setup);
        json.Text("file", view.Brought.File);
        json.Number("line", view.Brought.Line);
        if (view.Maybe is not { } maybe)
        {
            json.WriteNull("maybe");
            return;
        }
        json.WriteStartObject("maybe");
        json.Number("value", maybe.After);
        json.Text("change", maybe.Change);
        json.Time("from", maybe.FromUtc);
        json.Time("to", maybe.ToUtc);
        json.WriteEndObject();
    }
}
