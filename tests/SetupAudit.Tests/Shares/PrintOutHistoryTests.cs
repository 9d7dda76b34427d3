using System.Globalization;
using CsCheck;
using SetupAudit.Shop;

namespace SetupAudit.Shares;

/// <summary>
/// Random histories of a print-out: it grows by lines and by halves of lines, is rotated and cut, grows while it is
/// read, the share has faults and the service crashes. No line is ever taken twice or in halves (but for what stood
/// unfinished for a minute), and each that stood long enough is taken.
/// </summary>
public sealed class PrintOutHistoryTests
{
    private const double Step = 0.5;

    // Five times Settle for a file that never rests, and two polls.
    private const double LongEnoughSeconds = 15;

    private static readonly Gen<Act> Acts = Gen.Frequency(
        (8, Gen.Int[1, 4].Select(lines => new Act("append", lines))),
        (3, Gen.Const(new Act("half", 0))),
        (2, Gen.Const(new Act("rotate", 0))),
        (1, Gen.Const(new Act("cut", 0))),
        (2, Gen.Const(new Act("crash", 0))),
        (2, Gen.Const(new Act("race", 0))),
        (2, Gen.Int[1, 8].Select(steps => new Act("fault", steps))),
        (1, Gen.Int[1, 8].Select(steps => new Act("unmounted", steps))),
        (1, Gen.Int[1, 8].Select(steps => new Act("ends early", steps))),
        (1, Gen.Int[1, 8].Select(steps => new Act("hides", steps))),
        (8, Gen.Int[1, 30].Select(steps => new Act("wait", steps))),
        (1, Gen.Int[120, 140].Select(steps => new Act("wait", steps))));

    private static readonly Gen<History> Histories = Gen.Select(
        Acts.List[5, 50], Gen.Int[0, 3], Gen.Int[1, 200], Gen.Bool, Gen.Bool,
        (acts, skew, most, isLong, isHeld) => new History(acts, skew, most, isLong, isHeld));

    [Fact]
    public void Every_line_is_taken_once_and_whole_however_the_file_grows_and_turns() =>
        Histories.Sample(history => new Play(history).Run(), iter: 500);

    private sealed record Act(string What, int Count)
    {
        public override string ToString() => $"{What} {Count}";
    }

    /// <param name="IsHeld">The mount shows sizes and times of a little while ago, and cuts reads there.</param>
    private sealed record History(IReadOnlyList<Act> Acts, int Skew, int MostPerRead, bool IsLong, bool IsHeld)
    {
        public override string ToString() =>
            $"skew {Skew}, {MostPerRead} a read, long {IsLong}, held {IsHeld}: {string.Join(", ", Acts)}";
    }

    private sealed class Line
    {
        public double StoodSeconds { get; set; }

        public bool IsThere { get; set; } = true;

        public bool IsFinished { get; set; }
    }

    private sealed class Play
    {
        private readonly ShareBench _bench = new(SourceKind.PrintOut, "x.log*");
        private readonly History _history;
        private readonly Random _dice;
        private readonly List<Line> _lines = [];
        private readonly List<int>[] _files = [[], [], [], []];
        private bool _isHalf;
        private double _toPoll;
        private int _faulty;
        private string _fault = "";
        private bool _isCrashing;
        private bool _isRacing;

        public Play(History history)
        {
            _history = history;
            _dice = new Random(history.Acts.Count);
            double[] skews = [0, 3, 600, -600];
            _bench.Share.Skew = TimeSpan.FromSeconds(skews[history.Skew]);
            _bench.Share.MostPerRead = history.MostPerRead;
            _bench.Share.Before = Misbehave;
            if (history.IsHeld)
                (_bench.Share.MountedOn, _bench.Share.HoldsAttributes) = (MemoryShare.Nas, TimeSpan.FromSeconds(0.4));
            _bench.Share.EndsEarly = _ => _faulty > 0 && _fault == "ends early" && _dice.Next(3) == 0;
            _bench.Share.Hides = _ => _faulty > 0 && _fault == "hides" && _dice.Next(3) == 0;
            _bench.BeforeTakeIn = _ =>
            {
                if (_isCrashing) throw new InvalidOperationException("crash");
            };
        }

        public void Run()
        {
            _bench.Scan();
            foreach (var act in _history.Acts) Do(act);
            (_faulty, _isRacing) = (0, false);
            for (var i = 0; i < 180; i++) Pass();
            Check();
        }

        private void Do(Act act)
        {
            switch (act.What)
            {
                case "append":
                    for (var i = 0; i < act.Count; i++) Append();
                    break;
                case "half": AppendHalf(); break;
                case "rotate": Rotate(); break;
                case "cut":
                    if (_bench.Share.Has("x.log")) _bench.Share.Write("x.log", "");
                    Drop(0);
                    break;
                case "crash": Crash(); break;
                case "race": _isRacing = true; break;
                case "fault" or "unmounted" or "ends early" or "hides": (_fault, _faulty) = (act.What, act.Count); break;
                default:
                    for (var i = 0; i < act.Count; i++) Pass();
                    break;
            }
        }

        private void Append()
        {
            FinishHalf();
            _bench.Share.Append("x.log", Begin() + End());
        }

        private void AppendHalf()
        {
            FinishHalf();
            _bench.Share.Append("x.log", Begin());
            _isHalf = true;
        }

        private void FinishHalf()
        {
            if (_isHalf) _bench.Share.Append("x.log", End());
            _isHalf = false;
        }

        private string Begin()
        {
            _files[0].Add(_lines.Count);
            _lines.Add(new Line());
            var filling = new string('.', _history.IsLong ? 5000 : 20);
            return string.Create(CultureInfo.InvariantCulture, $"<{_lines.Count - 1}> {filling}");
        }

        private string End()
        {
            _lines[^1].IsFinished = true;
            _lines[^1].StoodSeconds = 0;
            return string.Create(CultureInfo.InvariantCulture, $" </{_lines.Count - 1}>\n");
        }

        private void Rotate()
        {
            if (!_bench.Share.Has("x.log")) return;
            Drop(3);
            for (var i = 3; i > 0; i--)
            {
                var from = i == 1 ? "x.log" : $"x.log.{i - 1}";
                if (_bench.Share.Has(from)) _bench.Share.Rename(from, $"x.log.{i}");
                (_files[i], _files[i - 1]) = (_files[i - 1], []);
            }

            _isHalf = false;
            _bench.Clock.Advance(0.1);
        }

        private void Drop(int file)
        {
            foreach (var line in _files[file]) _lines[line].IsThere = false;
            _files[file].Clear();
            if (file == 0) _isHalf = false;
        }

        private void Crash()
        {
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
            _bench.Share.IsUnmounted = _faulty > 0 && _fault == "unmounted";
            foreach (var line in _lines.Where(line => line.IsThere))
                line.StoodSeconds = _faulty > 0 || _isCrashing ? 0 : line.StoodSeconds + Step;
            if (_toPoll > 0) return;
            _toPoll = 2;
            try
            {
                _bench.Scan();
            }
            catch (InvalidOperationException) when (_isCrashing)
            {
                if (_dice.Next(2) == 0) _bench.Restart();
            }
        }

        private void Misbehave(string call, string name)
        {
            if (_isRacing && call == "read" && name == "x.log" && _dice.Next(3) == 0)
            {
                _isRacing = false;
                if (_bench.Share.Has("x.log")) Append();
            }

            if (_faulty == 0 || _fault != "fault") return;
            switch (_dice.Next(8))
            {
                case 0 when call == "read": throw MemoryShare.Fault(MemoryShare.Eio);
                case 1 when call == "entry": throw MemoryShare.Fault(MemoryShare.Eio);
                case 2: throw MemoryShare.Fault(MemoryShare.Estale);
                case 3 when call == "open": throw new FileNotFoundException();
                default: return;
            }
        }

        private string Told() => string.Join("; ", _bench.Taken.Select((found, i) =>
            $"{_bench.TakenAt[i]:HH:mm:ss.f} {found.Name}+{found.OffsetBytes}: {found.SizeBytes} bytes {found.Refused}"));

        private void Check()
        {
            for (var i = 0; i < _bench.Taken.Count; i++)
            {
                var found = _bench.Taken[i];
                if (found.Refused is not null || ShareBench.Text(found).EndsWith('\n')) continue;
                var stood = _bench.TakenAt[i] - (found.ModifiedUtc - _bench.Share.Skew);
                Assert.True(stood >= TimeSpan.FromSeconds(60) || _bench.Share.Skew < TimeSpan.Zero, $"{stood}");
            }

            var all = string.Concat(_bench.Taken.Where(found => found.Refused is null).Select(ShareBench.Text));
            for (var i = 0; i < _lines.Count; i++)
            {
                var least = _lines[i].StoodSeconds >= LongEnoughSeconds && _lines[i].IsFinished ? 1 : 0;
                foreach (var mark in new[] { $"<{i}>", $"</{i}>" })
                {
                    var count = all.Split(mark).Length - 1;
                    Assert.True(count >= least && count <= 1, $"{mark} was taken {count} times: {Told()}");
                }
            }

            Assert.Equal(0, _bench.Share.OpenNow);
        }
    }
}
