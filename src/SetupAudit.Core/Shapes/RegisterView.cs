using System.Text.Json;
using SetupAudit.Datums;

namespace SetupAudit.Shapes;

/// <summary>A register as a setup left it.</summary>
/// <param name="Cuts">Whether a program of the setup cuts in it; null where that is not known.</param>
public sealed record RegisterView(
    Register Register, bool? Cuts, IReadOnlyList<(Axis Axis, OffsetView Value)> Axes)
{
    internal static void Write(Utf8JsonWriter json, RegisterView view)
    {
        json.Text("register", view.Register.ToString());
        json.Flag("cuts", view.Cuts);
        json.Map("axes", view.Axes.Select(item => (item.Axis.ToString(), item.Value)), OffsetView.Write);
    }

    internal static RegisterView Read(JsonElement body) => new(
        ShapeValues.ParseRegister(body.TextOf("register")),
        body.Flag("cuts"),
        body.Members("axes", member => (Word.Parse<Axis>(member.Name), OffsetView.Read(member.Value))));
}
