using System.Text.Json.Serialization;
using SetupAudit.Shop;

namespace SetupAudit.Auditing;

/// <summary>
/// How a configuration is written to be compared, worked out when the program is built: finding it out while it runs
/// takes some thousand types that stay in memory.
/// </summary>
[JsonSourceGenerationOptions(GenerationMode = JsonSourceGenerationMode.Serialization, UseStringEnumConverter = true)]
[JsonSerializable(typeof(ShopConfig))]
internal sealed partial class BasisShape : JsonSerializerContext;
