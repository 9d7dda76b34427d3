using System.Collections.Immutable;
using SetupAudit.Findings;
using SetupAudit.Setups;

namespace SetupAudit.Folding;

/// <summary>
/// Which setups teach what offsets usually stand at: those that nobody doubts, and those that a person accepted. A
/// review teaches only the setups that open after it was recorded.
/// </summary>
internal static class Teaching
{
    private const int PastValuesKept = 60;
    private const int GradedKept = 100;

    /// <summary>A setup is over: it teaches at once where nothing of weight stands against it.</summary>
    public static MachineState Graded(MachineState state, DerivedSetup derived, DateTimeOffset untilUtc)
    {
        var graded = new GradedSetup(
            derived.Setup.Id, derived.Setup.Pallet, derived.Setup.OpenedUtc, untilUtc, Taught: false)
        {
            Judged = derived.Setup.JudgedUtc is not null,
            Basis = ReviewStanding.Basis(derived.Setup, derived.Findings),
            Lessons = [.. SetupJudge.Lessons(derived)],
        };
        var kept = state.Graded.Count < GradedKept ? state.Graded : state.Graded.RemoveAt(0);
        state = state with { Graded = kept.Add(graded) };
        return Teaches(graded, null) ? Taught(state, kept.Count) : state;
    }

    /// <summary>What reviews of setups that are over, recorded by a moment, make of them.</summary>
    public static MachineState AsReviewed(MachineState state, ReviewShelf reviews, DateTimeOffset nowUtc)
    {
        for (var at = 0; at < state.Graded.Count; at++)
        {
            var graded = state.Graded[at];
            var latest = reviews.Of(state.Machine, graded.Pallet, graded.OpenedUtc, graded.UntilUtc)
                .LastOrDefault(review => review.AtUtc <= nowUtc);
            var teaches = Teaches(graded, latest);
            if (teaches == graded.Taught) continue;
            state = teaches ? Taught(state, at) : Untaught(state, at);
        }
        return state;
    }

    private static bool Teaches(GradedSetup graded, Review? latest) => graded.Judged && latest switch
    {
        null => graded.Basis.Grave.Count == 0,
        { Verdict: ReviewVerdict.Accepted } => ReviewStanding.Doubt(latest, graded.Basis) is null,
        _ => false,
    };

    private static MachineState Taught(MachineState state, int at)
    {
        var graded = state.Graded[at];
        var past = state.Past;
        var lessons = graded.Basis.Grave.Count == 0
            ? graded.Lessons
            : graded.Lessons.ConvertAll(value => value with { Accepted = true });
        // Oldest first, also where it comes to teach long after it was over.
        var place = at == state.Graded.Count - 1 || graded.Lessons.Count == 0
            ? past.Count
            : past.FindLastIndex(value => value.AtUtc <= graded.Lessons[0].AtUtc) + 1;
        past = place == past.Count ? past.AddRange(lessons) : past.InsertRange(place, lessons);
        return state with
        {
            Past = Bounded(past),
            Graded = state.Graded.SetItem(at, graded with { Taught = true, Lessons = [] }),
        };
    }

    private static MachineState Untaught(MachineState state, int at)
    {
        var graded = state.Graded[at];
        return state with
        {
            Past = state.Past.RemoveAll(value => value.Setup == graded.Id),
            Graded = state.Graded.SetItem(at, graded with
            {
                Taught = false,
                Lessons = [.. state.Past.Where(value => value.Setup == graded.Id)],
            }),
        };
    }

    private static ImmutableList<PastValue> Bounded(ImmutableList<PastValue> past)
    {
        var over = past.GroupBy(value => (value.Key, value.Program)).Where(group => group.Count() > PastValuesKept)
            .SelectMany(group => group.Take(group.Count() - PastValuesKept)).ToHashSet();
        return over.Count == 0 ? past : past.RemoveAll(over.Contains);
    }
}
