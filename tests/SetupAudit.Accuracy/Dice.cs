namespace SetupAudit.Accuracy;

/// <summary>Seeded chance: the same seed and stream throw the same, on every machine.</summary>
internal sealed class Dice
{
    private readonly Random _random;

    private Dice(int seed) => _random = new Random(seed);

    /// <summary>A stream of its own, so that what one part of a shop throws does not reshuffle another.</summary>
    public static Dice For(int seed, string stream)
    {
        // FNV-1a: the runtime's own hash of a text differs from run to run.
        var hash = 2166136261u;
        foreach (var letter in stream) hash = unchecked((hash ^ letter) * 16777619u);
        return new Dice(unchecked((int)(hash ^ ((uint)seed * 2654435761u)) & int.MaxValue));
    }

    public bool Chance(double probability) => _random.NextDouble() < probability;

    public double Between(double low, double high) => low + (high - low) * _random.NextDouble();

    public double LogBetween(double low, double high) => low * Math.Pow(high / low, _random.NextDouble());

    /// <summary>A whole number, both ends included.</summary>
    public int Whole(int low, int high) => _random.Next(low, high + 1);

    public double Normal(double deviation) =>
        MathNet.Numerics.Distributions.Normal.Sample(_random, 0, 1) * deviation;

    public double Student(double deviation, double freedom) =>
        MathNet.Numerics.Distributions.StudentT.Sample(_random, 0, 1, freedom)
        * deviation / Math.Sqrt(freedom / (freedom - 2));

    public int Sign(double plus = 0.5) => Chance(plus) ? 1 : -1;

    public T Pick<T>(IReadOnlyList<T> items) => items[_random.Next(items.Count)];

    /// <summary>Some of the items, in their order.</summary>
    public IReadOnlyList<T> Some<T>(IReadOnlyList<T> items, int count)
    {
        var places = Enumerable.Range(0, items.Count).ToArray();
        _random.Shuffle(places);
        return [.. places.Take(count).Order().Select(place => items[place])];
    }

    public T Weighted<T>(params ReadOnlySpan<(double Weight, T Item)> items)
    {
        var sum = 0.0;
        foreach (var (weight, _) in items) sum += weight;
        var left = _random.NextDouble() * sum;
        foreach (var (weight, item) in items)
            if ((left -= weight) < 0) return item;
        return items[^1].Item;
    }
}
