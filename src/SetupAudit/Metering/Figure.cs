namespace SetupAudit.Metering;

/// <summary>A gauge's value under one set of labels.</summary>
public readonly record struct Figure(double Value, params string[] Labels);
