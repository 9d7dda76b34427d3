using System.Globalization;
using CsCheck;

namespace SetupAudit.Shares;

/// <summary>
/// Random histories of a share: writers that take their time, faults, crashes, clocks that disagree. Whatever happens,
/// every version that stood long enough is taken exactly once, none is torn, none is lost, and nothing is deleted.
/// </summary>
public sealed class DocumentHistoryTests
{
    private const double Step = 0.5;

    // Settle, two polls, the reading, and what a fault before may have put off by Settle once more.
    private const double LongEnoughSeconds = 14;

    // What changed behind the same size and time is found when every file is read again, and believed the second time.
    private const double RehashSeconds = 40;
    private const double FoundByRehashSeconds = 60;

    // A file that was refused is tried again after a minute.
    private const double TriedAgainSeconds = 75;

    private static readonly Gen<Act> Acts = Gen.Frequency(
        (6, Gen.Select(Gen.Int[0, 3], Gen.Int[1, 4], Gen.Int[1, 400], Act.Write)),
        (2, Gen.Int[0, 3].Select(Act.Touch)),
        (1, Gen.Int[0, 3].Select(Act.Delete)),
        (5, Gen.Select(Gen.Int[0, 8], Gen.Int[1, 6], Act.Fault)),
        (2, Gen.Int[0, 3].Select(Act.Forge)),
        (2, Gen.Const(Act.Crash)),
        (3, Gen.Int[0, 3].Select(Act.Race)),
        (8, Gen.Int[1, 40].Select(Act.Wait)));

    private static readonly Gen<History> Histories = Gen.Select(
        Acts.List[5, 40], Gen.Int[0, 4], Gen.Int[0, 1], Gen.Int[1, 200], Gen.Bool,
        (acts, skew, tick, most, isHeld) => new History(acts, skew, tick, most, isHeld));

    [Fact]
    public void Every_version_that_stood_long_enough_is_taken_exactly_once_and_none_is_torn() =>
        Histories.Sample(history => new Play(history).Run(), iter: 1500);

    /// <param name="IsHeld">The mount shows sizes and times of a little while ago.</param>
    private sealed record History(IReadOnlyList<Act> Acts, int Skew, int Tick, int MostPerRead, bool IsHeld)
    {
        public override string ToString() =>
            $"skew {Skew}, tick {Tick}, {MostPerRead} a read, held {IsHeld}: {string.Join(", ", Acts)}";
    }

    private sealed record Act(string What, int File = 0, int Parts = 0, int Size = 0)
    {
        public static readonly Act Crash = new("crash");

        public static Act Write(int file, int parts, int size) => new("write", file, parts, size);

        public static Act Touch(int file) => new("touch", file);

        public static Act Delete(int file) => new("delete", file);

        public static Act Fault(int kind, int steps) => new("fault", kind, steps);

        /// <summary>Overwritten, to the same size, in the middle of the next time it is read.</summary>
        public static Act Race(int file) => new("race", file);

        /// <summary>Other bytes under the same size and time.</summary>
        public static Act Forge(int file) => new("forge", file);

        public static Act Wait(int steps) => new("wait", Parts: steps);

        public override string ToString() => $"{What} {File}/{Parts}/{Size}";
    }

    private sealed record Version(string Text, DateTime Modified, bool IsForged = false)
    {
        public double StoodSeconds { get; set; }
    }

    private sealed class Play
    {
        private readonly ShareBench _bench = new();
        private readonly History _history;
        private readonly List<(string Name, Version Version)> _all = [];
        private readonly Dictionary<string, Version> _whole = new(StringComparer.Ordinal);
        private readonly Random _dice;
        private int _count;
        private double _toPoll;
        private int _faulty;
        private int _fault;
        private bool _isCrashing;
        private string? _race;

        public Play(History history)
        {
            _history = history;
            // A fixed seed of its own: the history alone decides what happens.
            _dice = new Random(history.Acts.Count);
            // Behind us, level, ahead of us: but a first scan believes old times, so a crash needs a clock not behind.
            double[] skews = [0, 3, 600, -600, -3];
            _bench.Share.Skew = TimeSpan.FromSeconds(skews[history.Skew]);
            _bench.Share.Tick = TimeSpan.FromSeconds(history.Tick == 0 ? 0.0000001 : 1);
            _bench.Share.MostPerRead = history.MostPerRead;
            _bench.Share.Before = Misbehave;
            // With the longest pause of a writer, 1.5 s, this is still less than Settle.
            if (history.IsHeld)
                (_bench.Share.MountedOn, _bench.Share.HoldsAttributes) = (MemoryShare.Nas, TimeSpan.FromSeconds(0.4));
            _bench.Share.EndsEarly = _ => _faulty > 0 && _fault == 6 && _dice.Next(3) == 0;
            _bench.Share.Hides = _ => _faulty > 0 && _fault == 7 && _dice.Next(3) == 0;
            _bench.Source = _bench.Source with
            {
                Watch = _bench.Source.Watch with { Rehash = TimeSpan.FromSeconds(RehashSeconds) },
            };
            _bench.BeforeTakeIn = _ =>
            {
                if (_isCrashing) throw new InvalidOperationException("crash");
            };
        }

        public void Run()
        {
            _bench.Scan();
            foreach (var act in _history.Acts) Do(act);
            _faulty = 0;
            for (var i = 0; i < 180; i++) Pass();
            Check();
        }

        private void Do(Act act)
        {
            var name = string.Create(CultureInfo.InvariantCulture, $"{act.File}.nc");
            switch (act.What)
            {
                case "write": Write(name, act.Parts, act.Size); break;
                case "touch" when _whole.TryGetValue(name, out var version):
                    _bench.Share.Touch(name, _bench.Share.Now);
                    Stand(name, version.Text);
                    break;
                case "delete":
                    _bench.Share.Delete(name);
                    _whole.Remove(name);
                    break;
                case "fault": (_fault, _faulty) = (act.File, act.Parts); break;
                case "crash": Crash(); break;
                case "race": _race = name; break;
                case "forge" when _whole.TryGetValue(name, out var version): Forge(name, version); break;
                case "wait":
                    for (var i = 0; i < act.Parts; i++) Pass();
                    break;
                default: break;
            }
        }

        // In parts, a second or more apart and less than Settle: on a server with a tick of a second each part shows.
        private void Write(string name, int parts, int size)
        {
            var text = string.Create(CultureInfo.InvariantCulture, $"({++_count}){new string('X', size)}%");
            _whole.Remove(name);
            for (var part = 1; part < parts; part++)
            {
                _bench.Share.Write(name, text[..(text.Length * part / parts)]);
                for (var i = 0; i < 2 + (part % 2); i++) Pass();
            }

            _bench.Share.Write(name, text);
            Stand(name, text);
        }

        private void Forge(string name, Version version)
        {
            var text = string.Create(CultureInfo.InvariantCulture, $"({++_count})").PadRight(version.Text.Length, 'F');
            if (text.Length != version.Text.Length) return;
            _bench.Share.Write(name, text, version.Modified);
            Stand(name, text, isForged: true);
        }

        private void Stand(string name, string text, bool isForged = false)
        {
            var modified = _bench.Share.Stamp(name).ModifiedUtc;
            // Touched within the server's tick: it is the same version still.
            if (_whole.TryGetValue(name, out var now) && now.Text == text && now.Modified == modified) return;
            var version = new Version(text, modified, isForged);
            _whole[name] = version;
            _all.Add((name, version));
        }

        private void Crash()
        {
            if (_bench.Share.Skew < TimeSpan.Zero) return;
            _isCrashing = _dice.Next(2) == 0;
            for (var i = 0; i < 5; i++) Pass();
            _isCrashing = false;
            if (_dice.Next(2) == 0) _bench.Restart();
        }

        private void Pass()
        {
            _bench.Clock.Advance(Step);
            _toPoll -= Step;
            if (_faulty > 0) _faulty--;
            _bench.Share.IsUnmounted = _faulty > 0 && _fault == 8;
            foreach (var version in _whole.Values)
                version.StoodSeconds = _faulty > 0 || _isCrashing ? 0 : version.StoodSeconds + Step;
            if (_toPoll > 0) return;
            _toPoll = 2;
            try
            {
                _bench.Scan();
            }
            catch (InvalidOperationException) when (_isCrashing)
            {
                // The store failed; the process may live on and must then not count what was not kept.
                if (_dice.Next(2) == 0) _bench.Restart();
            }
        }

        private void Misbehave(string call, string name)
        {
            if (call == "read" && name == _race && _dice.Next(2) == 0) Race(name);
            if (_faulty == 0 || _dice.Next(3) != 0) return;
            switch (_fault)
            {
                case 0 when call == "read": throw MemoryShare.Fault(MemoryShare.Eio);
                case 1 when call is "entry": throw MemoryShare.Fault(MemoryShare.Eio);
                case 2: throw MemoryShare.Fault(MemoryShare.Estale);
                case 3 when call == "open": throw new FileNotFoundException();
                case 4 when call == "list": throw new DirectoryNotFoundException();
                case 5 when call == "open": throw new UnauthorizedAccessException();
                default: return;
            }
        }

        private void Race(string name)
        {
            _race = null;
            if (!_whole.TryGetValue(name, out var version)) return;
            var text = string.Create(CultureInfo.InvariantCulture, $"({++_count})").PadRight(version.Text.Length, 'R');
            _bench.Share.Write(name, text);
            Stand(name, text);
        }

        private void Check()
        {
            foreach (var found in _bench.Taken.Where(one => one.Refused is null))
            {
                var text = ShareBench.Text(found);
                Assert.Contains(_all, one => one.Name == found.Name && one.Version.Text == text);
            }

            foreach (var (name, version) in _all)
            {
                var count = _bench.Taken.Count(found => found.Refused is null && found.Name == name
                    && found.ModifiedUtc == version.Modified && ShareBench.Text(found) == version.Text);
                var wasRefused = _bench.Taken.Exists(found => found.Refused is not null && found.Name == name);
                var enough = wasRefused ? TriedAgainSeconds
                    : version.IsForged ? FoundByRehashSeconds
                    : LongEnoughSeconds;
                var least = version.StoodSeconds >= enough ? 1 : 0;
                Assert.True(count >= least && count <= 1, $"{name} {version} was taken {count} times");
            }

            Assert.Equal(0, _bench.Share.OpenNow);
            Assert.All(_whole.Keys, name =>
                Assert.DoesNotContain("Missing", Assert.Contains(name, _bench.Kept), StringComparison.Ordinal));
        }
    }
}
