using CsCheck;

namespace SetupAudit.Shares;

public sealed class KnownFilesTests
{
    private static readonly DateTime Read = new(2026, 3, 2, 7, 0, 0, DateTimeKind.Utc);
    private static readonly TimeSpan Rehash = TimeSpan.FromMinutes(15);

    // What happens between two listings: a file is read again, comes to be known, or is forgotten.
    private static readonly Gen<(int What, int File)> Act = Gen.Select(Gen.Int[0, 2], Gen.Int[0, 11]);

    private static readonly Gen<(int[] Listing, (int, int)[] Acts)> Turn =
        Gen.Select(Gen.Int[0, 11].Array[0, 14], Act.Array[0, 6]);

    [Fact]
    public void In_whatever_order_a_folder_lists_its_files_each_is_found_as_it_is_known_now() =>
        Turn.Array[1, 12].Sample(turns =>
        {
            var files = new KnownFiles([], Rehash);
            var now = new Dictionary<string, KnownFile>(StringComparer.Ordinal);
            foreach (var (listing, acts) in turns)
            {
                files.BeginListing();
                foreach (var file in listing) Assert.Same(now.GetValueOrDefault(Name(file)), files.Find(Name(file)));
                foreach (var (what, file) in acts)
                {
                    if (what == 0)
                    {
                        files.Forget(Name(file));
                        now.Remove(Name(file));
                    }
                    else
                    {
                        files.Put(now[Name(file)] = now.GetValueOrDefault(Name(file)) is { } known
                            ? known with { ReadUtc = known.ReadUtc.AddMinutes(1) }
                            : Known(Name(file)));
                    }
                }
            }
        });

    [Fact]
    public void The_first_comparisons_spread_over_half_the_period_and_the_later_ones_come_near_its_end()
    {
        var files = new KnownFiles([], Rehash);
        var (first, again) = (new List<double>(), new List<double>());
        for (var number = 0; number < 1000; number++)
        {
            var known = Known(Name(number));
            files.Put(known);
            first.Add((known.DueUtc - Read) / Rehash);
            known = Known(Name(number));
            files.Put(known);
            again.Add((known.DueUtc - Read) / Rehash);
        }

        Assert.InRange(first.Min(), 0.5, 0.55);
        Assert.InRange(first.Max(), 0.9, 0.95);
        Assert.InRange(again.Min(), 0.85, 0.86);
        Assert.InRange(again.Max(), 0.94, 0.95);
    }

    private static string Name(int number) => $"{number:0000}.nc";

    private static KnownFile Known(string name) => new()
    {
        Name = name,
        Kind = EntryKind.File,
        Listed = new FileStamp(1, Read),
        Taken = new FileStamp(1, Read),
        ReadUtc = Read,
    };
}
