using System.Text;

namespace SetupAudit.Readings;

/// <summary>
/// Finds text that every match of a regular expression must contain, so that most lines need not be matched at all.
/// Takes in only what is certain: where a pattern is not plain, there is none.
/// </summary>
internal ref struct RequiredLiteral
{
    private readonly ReadOnlySpan<char> _pattern;
    private readonly StringBuilder _run = new();
    private string _longest = "";
    private int _at;
    private bool _isUncertain;

    private RequiredLiteral(ReadOnlySpan<char> pattern) => _pattern = pattern;

    /// <summary>ASCII text; empty where nothing is certain. The pattern compiles.</summary>
    public static string Of(string pattern) => new RequiredLiteral(pattern).Find();

    private string Find()
    {
        while (_at < _pattern.Length && !_isUncertain) TakeOne(_pattern[_at++]);
        EndRun();
        return _isUncertain ? "" : _longest;
    }

    private void TakeOne(char letter)
    {
        switch (letter)
        {
            case '\\':
                TakeEscape();
                break;
            case '[':
                EndRun();
                SkipClass();
                break;
            case '(':
                EndRun();
                SkipGroup();
                break;
            case '|' or ')':
                _isUncertain = true;
                break;
            case '*' or '?':
                DropLast();
                break;
            case '{':
                DropLast();
                SkipTo('}');
                break;
            case '.' or '^' or '$' or '+':
                EndRun();
                break;
            default:
                TakeLiteral(letter);
                break;
        }
    }

    // A quantifier is for the letter before it alone, which may then not be there at all.
    private void DropLast()
    {
        if (_run.Length > 0) _run.Length--;
        EndRun();
    }

    private void EndRun()
    {
        if (_run.Length > _longest.Length) _longest = _run.ToString();
        _run.Clear();
    }

    private void TakeEscape()
    {
        if (_at >= _pattern.Length) return;
        var letter = _pattern[_at++];
        if (!char.IsAsciiLetterOrDigit(letter))
        {
            TakeLiteral(letter);
            return;
        }
        EndRun();
        if (letter is 'p' or 'P') SkipTo('}');
        else if (!"dDwWsSbBAzZtrnfve".Contains(letter)) _isUncertain = true;
    }

    // Other letters than ASCII have more than one form in bytes.
    private void TakeLiteral(char letter)
    {
        if (char.IsAscii(letter)) _run.Append(letter);
        else EndRun();
    }

    private void SkipTo(char end)
    {
        var length = _pattern[_at..].IndexOf(end);
        if (length < 0) _isUncertain = true;
        else _at += length + 1;
    }

    private void SkipClass()
    {
        if (_at < _pattern.Length && _pattern[_at] == '^') _at++;
        // A bracket that stands first is one of the class; one within it, as in [a-z-[x]], begins a class to leave out.
        if (_at < _pattern.Length && _pattern[_at] == ']') _at++;
        while (_at < _pattern.Length)
        {
            var letter = _pattern[_at++];
            if (letter == ']') return;
            if (letter == '\\') _at++;
            if (letter == '[') SkipClass();
        }
        _isUncertain = true;
    }

    private void SkipGroup()
    {
        // (?<name>...) and (?:...) leave what is outside as it is; (?i) and the like do not.
        if (_at < _pattern.Length && _pattern[_at] == '?')
        {
            var isNamed = _at + 1 < _pattern.Length && _pattern[_at + 1] is '<' or '\'' or ':';
            if (!isNamed) _isUncertain = true;
            _at++;
        }
        for (var depth = 1; depth > 0 && _at < _pattern.Length && !_isUncertain;)
        {
            var letter = _pattern[_at++];
            if (letter == '\\') _at++;
            else if (letter == '[') SkipClass();
            else if (letter == '(') depth++;
            else if (letter == ')') depth--;
        }
    }
}
