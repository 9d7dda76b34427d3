using System.Text.Json;

namespace SetupAudit.Shapes;

/// <summary>What comes back of one thing: its JSON body, field by field as contract section 5 names them.</summary>
public interface IShape
{
    /// <summary>Writes the body as one JSON object.</summary>
    void Write(Utf8JsonWriter json);
}

/// <summary>A shape that can be read back from its own body.</summary>
public interface IShape<TSelf> : IShape
    where TSelf : IShape<TSelf>
{
    /// <summary>
    /// Reads a body that <see cref="IShape.Write"/> wrote; anything else is a damaged record and throws.
    /// </summary>
    static abstract TSelf Read(JsonElement body);
}
