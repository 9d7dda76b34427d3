namespace SetupAudit.Store.Verifying;

public sealed class FaultListTests
{
    [Fact]
    public void The_same_fault_is_told_once_and_no_sentence_ends_twice()
    {
        var faults = new FaultList();
        faults.Add("database-damaged", "the disk says: Input/output error.");
        faults.Add("database-damaged", "the disk says: Input/output error.");
        faults.Add("entry-altered", 4, "entry 4 was altered");
        Assert.Equal(2, faults.Count);
        Assert.Equal(["entry 4 was altered", "the disk says: Input/output error"], faults.Ordered.Select(fault => fault.Text));
    }

    [Fact]
    public void Only_the_first_hundred_are_told_and_all_are_counted()
    {
        var faults = new FaultList();
        for (var number = 0; number < 150; number++) faults.Add("entry-altered", number, $"entry {number} was altered");
        Assert.Equal((150, 100, true), (faults.Count, faults.Ordered.Count, faults.IsFull));
    }
}
