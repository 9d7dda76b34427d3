using System.Text;

namespace SetupAudit.Commands;

/// <summary>Where a command writes, and what it may count on: data to Out, all else to Errors.</summary>
public sealed record Terminal
{
    public required TextWriter Out { get; init; }

    public required TextWriter Errors { get; init; }

    /// <summary>A person reads Out: tables may have lines and colours.</summary>
    public bool OutIsScreen { get; init; }

    /// <summary>A person reads Errors: long work may show how far it is.</summary>
    public bool ErrorsAreScreen { get; init; }

    public TimeProvider Time { get; init; } = TimeProvider.System;

    /// <summary>
    /// Asks a person for a secret that is not shown while it is typed; null where nobody can be asked.
    /// </summary>
    public Func<string, string>? AskSecret { get; init; }

    /// <summary>The terminal of this process, in UTF-8 without a mark.</summary>
    public static Terminal OfProcess()
    {
        Console.OutputEncoding = new UTF8Encoding(encoderShouldEmitUTF8Identifier: false);
        return new Terminal
        {
            // Lists may be long: one write a line would take longer than reading the record.
            Out = Console.IsOutputRedirected ? Buffered() : Console.Out,
            Errors = Console.Error,
            OutIsScreen = !Console.IsOutputRedirected,
            ErrorsAreScreen = !Console.IsErrorRedirected,
            AskSecret = Console.IsInputRedirected || Console.IsErrorRedirected ? null : Secret,
        };
    }

    private static string Secret(string question)
    {
        Console.Error.Write(question);
        var typed = new StringBuilder();
        for (var key = Console.ReadKey(intercept: true); key.Key != ConsoleKey.Enter;
            key = Console.ReadKey(intercept: true))
        {
            if (key.Key == ConsoleKey.Backspace) typed.Length -= Math.Min(1, typed.Length);
            else if (key.KeyChar != '\0') typed.Append(key.KeyChar);
        }
        Console.Error.WriteLine();
        return typed.ToString();
    }

    private static StreamWriter Buffered() =>
        new(Console.OpenStandardOutput(), new UTF8Encoding(encoderShouldEmitUTF8Identifier: false), bufferSize: 1 << 16)
        {
            NewLine = "\n",
        };
}
