using System.Text.Json;
using SetupAudit.Shapes;
using SetupAudit.Store;

namespace SetupAudit.Commands;

/// <summary>One person as <c>people list</c> gives them: nothing that helps to guess a password.</summary>
internal sealed record PersonLine(StoredPerson Person, DateTimeOffset? LastSignInUtc) : IShape
{
    public void Write(Utf8JsonWriter json)
    {
        json.WriteStartObject();
        json.WriteString("person", Person.Person);
        json.WriteString("name", Person.Name);
        json.WriteString("role", Person.Role);
        json.WriteString("state", Person.State);
        json.WriteString("since", Word.Of(Person.AtUtc));
        json.WriteString("lastSignIn", LastSignInUtc is { } last ? Word.Of(last) : null);
        json.WriteString("why", Person.Why);
        json.WriteString("by", Person.ByName);
        json.WriteBoolean("signed", Person.ByPerson is not null);
        json.WriteString("account", Person.Account);
        json.WriteEndObject();
    }
}
