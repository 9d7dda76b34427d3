namespace SetupAudit.Reports;

/// <summary>
/// How a report looks: black on white, one accent that marks only what must be looked at, numbers in columns. Every
/// state also has a word and a shape of its own, so that a grey print says the same.
/// </summary>
internal static class ReportStyle
{
    public const string Css = """

        :root { --ink: #14171a; --soft: #5b636b; --line: #d5d9dd; --wash: #f4f5f6; --alarm: #b3261e; }
        @page { margin: 13mm 14mm 16mm; @bottom-right { content: "page " counter(page) " of " counter(pages);
          font: 9px "Helvetica Neue", "Segoe UI", "Liberation Sans", Arial, sans-serif; color: #5b636b; } }
        * { box-sizing: border-box; }
        html { font: 14px/1.45 "Helvetica Neue", "Segoe UI", "Liberation Sans", Arial, sans-serif; color: var(--ink);
          background: #fff; font-variant-numeric: tabular-nums lining-nums; -webkit-print-color-adjust: exact;
          print-color-adjust: exact; }
        body { margin: 0; }
        main { max-width: 800px; margin: 0 auto; padding: 36px 28px 64px; }
        p, ul, dl, table { margin: 0; }
        h1 { font-size: 34px; line-height: 1.1; font-weight: 700; letter-spacing: -.02em; margin: 4px 0 0; }
        h1 .of { display: block; font-size: 17px; font-weight: 400; letter-spacing: 0; margin-top: 6px;
          color: var(--ink); overflow-wrap: anywhere; }
        h2 { font-size: 12px; font-weight: 700; letter-spacing: .09em; text-transform: uppercase; margin: 34px 0 10px;
          padding-top: 9px; border-top: 1px solid var(--ink); break-after: avoid; }
        .eyebrow { display: flex; justify-content: space-between; font-size: 12px; color: var(--soft); }
        .verdict { margin: 20px 0 22px; padding: 14px 0 14px 18px; border-left: 5px solid var(--ink);
          break-inside: avoid; }
        .verdict .sentence { font-size: 20px; line-height: 1.25; font-weight: 700; margin-bottom: 4px; }
        .verdict.found { border-color: var(--alarm); }
        .verdict.found .sentence { color: var(--alarm); }
        .facts { display: grid; grid-template-columns: repeat(auto-fill, minmax(215px, 1fr)); gap: 12px 24px; }
        dt { font-size: 11px; color: var(--soft); }
        dd { margin: 0; overflow-wrap: anywhere; }
        .beside, .quiet { color: var(--soft); font-size: 12px; }
        dd .beside { display: block; }
        .finding { display: grid; grid-template-columns: 128px 1fr; gap: 0 18px; padding: 12px 0;
          border-top: 1px solid var(--line); break-inside: avoid; }
        h2.name { font-size: 15px; letter-spacing: 0; text-transform: none; overflow-wrap: anywhere; }
        h2 + .finding { border-top: 0; padding-top: 2px; }
        .weight b { display: inline-block; font-size: 11px; letter-spacing: .06em; padding: 2px 8px;
          border: 1.5px solid var(--ink); border-radius: 2px; }
        .weight span { display: block; font-size: 12px; color: var(--soft); margin-top: 4px; }
        .grave .weight b { background: var(--alarm); border-color: var(--alarm); color: #fff; }
        .message { font-size: 15px; line-height: 1.4; overflow-wrap: anywhere; }
        .evidence { list-style: none; padding: 0; margin-top: 8px; }
        .evidence li { margin-top: 5px; padding-left: 10px; border-left: 2px solid var(--line);
          overflow-wrap: anywhere; }
        .evidence .where { display: block; font-size: 11px; color: var(--soft); }
        code { font: 12px/1.4 "Liberation Mono", Consolas, Menlo, monospace; white-space: pre-wrap;
          overflow-wrap: anywhere; }
        table { border-collapse: collapse; width: 100%; }
        th { text-align: left; font-weight: 600; }
        thead { display: table-header-group; }
        tr { break-inside: avoid; }
        .causes { margin: 8px 0 4px; font-size: 12px; }
        .causes caption { text-align: left; color: var(--soft); font-size: 11px; padding-bottom: 2px; }
        .causes th, .causes td { padding: 2px 10px 2px 0; vertical-align: baseline; font-weight: 400; }
        .causes th { white-space: nowrap; }
        .bar-all { fill: var(--wash); } .bar-part { fill: var(--ink); }
        .number { text-align: right; white-space: nowrap; }
        .grid th, .grid td { padding: 9px 12px; border: 1px solid var(--line); vertical-align: top; }
        .grid thead th { font-size: 13px; border-top: 0; padding: 4px 12px; }
        .grid th:first-child, .grid td:first-child { border-left: 0; padding-left: 0; }
        .grid th:last-child, .grid td:last-child { border-right: 0; }
        .grid tbody th { font-size: 16px; white-space: nowrap; }
        .grid tbody th .beside { display: block; font-weight: 400; font-size: 11px; white-space: normal; }
        .dense td, .dense th { padding: 3px 8px; }
        .dense tbody th { font-size: 13px; } .dense tbody th .beside { white-space: nowrap; }
        .dense .state { display: inline; } .dense .value { display: inline; font-size: 14px; margin-left: 5px; }
        .dense .mark .beside { font-size: 10px; }
        .unit { font-weight: 400; color: var(--soft); font-size: 11px; margin-left: 5px; }
        .mark .state { font-size: 11px; white-space: nowrap; }
        .mark .value { font-size: 19px; line-height: 1.3; white-space: nowrap; letter-spacing: -.01em; }
        .mark .beside { font-size: 11px; }
        .is-set .value { font-weight: 700; }
        .carried .value, .carried .state, .unknown .value { color: var(--soft); }
        td.not-set { outline: 2.5px solid var(--alarm); outline-offset: -2px;
          background: repeating-linear-gradient(135deg, #fff 0 6px, #f9e7e5 6px 9px); }
        td.not-set .state { color: var(--alarm); font-weight: 700; font-size: 13px; }
        td.set-late { outline: 2.5px solid var(--alarm); outline-offset: -2px; }
        td.set-late .state { color: var(--alarm); font-weight: 700; } td.set-late .value { font-weight: 700; }
        td.none { color: var(--soft); }
        .sign { vertical-align: -1px; margin-right: 5px; fill: none; stroke: var(--ink); stroke-width: 1.4; }
        .sign.is-set { fill: var(--ink); }
        .sign.not-set { stroke: var(--alarm); stroke-width: 1.8; }
        .sign.set-late { stroke: var(--alarm); stroke-width: 1.8; }
        .sign.carried { stroke: var(--soft); }
        .sign.unknown { stroke: var(--soft); stroke-dasharray: 1.6 1.6; }
        .legend { display: flex; flex-wrap: wrap; gap: 3px 22px; margin: 9px 0 6px; font-size: 11px;
          color: var(--soft); }
        .legend b { color: var(--ink); font-weight: 600; }
        .picture { break-inside: avoid; }
        .drawing { display: block; margin-bottom: 10px; width: 100%; height: auto; overflow: visible; }
        .drawing text { font-size: 11px; fill: var(--ink); }
        .drawing .tick, .drawing .side { font-size: 10px; fill: var(--soft); }
        .drawing .name { font-weight: 600; }
        .drawing .small { font-size: 9px; }
        .drawing .wrong { fill: var(--alarm); }
        .table { fill: #fff; stroke: var(--ink); stroke-width: 1.2; }
        .table.open { stroke-dasharray: 4 4; stroke: var(--soft); }
        .stock { fill: #e9ebed; stroke: #a9b0b7; stroke-width: .8; }
        .panel { fill: none; stroke: var(--line); }
        .zero, .axis { stroke: var(--soft); fill: none; } .axis.head { fill: var(--soft); }
        .old { fill: #fff; stroke: var(--soft); stroke-width: 1.4; }
        .new { fill: var(--ink); stroke: var(--ink); stroke-width: 1.4; }
        .level { stroke-width: 2.4; } .level.wrong { stroke: var(--alarm); }
        .move { stroke: var(--ink); stroke-width: 1; stroke-dasharray: 3 2; fill: none; }
        .move.head { fill: var(--ink); stroke: none; }
        .leader { fill: none; stroke: #a9b0b7; stroke-width: .7; }
        .scale { fill: none; stroke: var(--ink); stroke-width: 1.2; }
        .list { font-size: 12.5px; }
        .list th, .list td { padding: 4px 12px 4px 0; border-bottom: 1px solid var(--line); vertical-align: baseline;
          }
        .list thead th { font-size: 11px; color: var(--soft); font-weight: 400; }
        .list .number { padding-left: 12px; padding-right: 0; }
        .list .number + :not(.number) { padding-left: 24px; }
        .list .out td { font-weight: 700; color: var(--alarm); }
        .hashes { table-layout: fixed; } .hashes td { overflow-wrap: anywhere; font-size: 11px; }
        .hashes td:first-child { width: 38%; } .hashes code { font-size: 10px; }
        .limits ul, .cautions ul { padding-left: 18px; }
        .limits li, .cautions li { margin-top: 3px; }
        .limits ul { font-size: 12.5px; overflow-wrap: anywhere; }
        .cautions { break-inside: avoid; }
        .check p { font-size: 12.5px; margin-bottom: 6px; }
        footer { margin-top: 32px; font-size: 11px; color: var(--soft); }
        @media print { html { font-size: 12.5px; } main { max-width: none; padding: 0; } h2 { margin-top: 24px; } }

        """;
}
