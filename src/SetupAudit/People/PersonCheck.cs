using SetupAudit.Store;

namespace SetupAudit.People;

/// <summary>Whether what is to be done about a person can be kept.</summary>
internal sealed class PersonCheck(StoreReader store)
{
    public async Task<ActVerdict> LookAsync(Act act, CancellationToken token)
    {
        if (act.Review is not null) return ActVerdict.Refused("The request is not whole.");
        if (act.Kind == ActKind.SignIn)
            return act is { SignIn: not null, Person: null } && act.SignIn.Outcome != SignInOutcome.Right
                ? ActVerdict.Fine
                : ActVerdict.Refused("The request is not whole.");
        if (act.Person is not { } row || row.Id != act.Id) return ActVerdict.Refused("The request is not whole.");
        var rows = await store.PeopleAsync(token);
        // Taken in before, and the answer was lost: it is answered again.
        if (rows.Any(kept => kept.Id == row.Id)) return ActVerdict.Fine;
        if (Fault(row) is { } fault) return ActVerdict.Refused(fault);
        var people = new PeopleList(rows);
        if (Unsigned(act, row, people) is { } unsigned) return ActVerdict.Refused(unsigned);
        var known = people.Find(row.Person);
        return act.Kind switch
        {
            ActKind.Add => Added(row, people),
            _ when known is null => ActVerdict.Refused($"Nobody is called {row.Name}."),
            _ when known.Folded != row.Folded || known.Role != row.Role =>
                ActVerdict.Refused("The request is about another person than it names."),
            ActKind.Lock => Locked(row, known),
            _ => NewPassword(row, known),
        };
    }

    private static string? Fault(StoredPerson row) =>
        PersonName.Fault(row.Name)
        ?? (row.Folded != PersonName.Folded(row.Name) || !PersonRole.All.Contains(row.Role)
            || row.Salt.Length != PersonKey.SaltBytes || row.Passes < PersonKey.Passes
            || row.MemoryKib < PersonKey.MemoryKib || row.MemoryKib > 16 * PersonKey.MemoryKib || row.Passes > 16
            || row.Why.Length is 0 or > ReviewCheck.LongestReason
            ? "The request is not whole."
            : null);

    private static ActVerdict Added(StoredPerson row, PeopleList people)
    {
        if (people.Find(row.Person) is not null || row.Locked) return ActVerdict.Refused("The request is not whole.");
        return people.Named(row.Name) is { } other
            ? ActVerdict.Refused($"The name {row.Name} is taken{(other.Locked ? " by one who is locked" : "")}: "
                + "a name is one person's for ever.")
            : ActVerdict.Fine;
    }

    private static ActVerdict Locked(StoredPerson row, StoredPerson known) =>
        known.Locked ? ActVerdict.Refused($"{known.Name} is locked already.")
        : row.Locked && row.CheckKey.SequenceEqual(known.CheckKey) && row.Salt.SequenceEqual(known.Salt)
            ? ActVerdict.Fine
            : ActVerdict.Refused("The request is not whole.");

    private static ActVerdict NewPassword(StoredPerson row, StoredPerson known) =>
        known.Locked ? ActVerdict.Refused($"{known.Name} is locked.")
        : row.ByPerson == row.Person && !row.Locked
            ? ActVerdict.Fine
            : ActVerdict.Refused("A password is changed by its owner, who gives the old one.");

    private static string? Unsigned(Act act, StoredPerson row, PeopleList people)
    {
        if (row.ByPerson is null) return act.Signature is null ? null : "The request carries a signature of nobody.";
        return people.Find(row.ByPerson) is { Locked: false } by && row.ByName == by.Name
            && act.SignIn is { Outcome: SignInOutcome.Right } given && given.Person == by.Person
            && PersonKey.Signed(SignedText.Of(act.Kind, row), ReviewCheck.Bytes(act.Signature), by.CheckKey)
            ? null
            : "The signature does not fit the request.";
    }
}
