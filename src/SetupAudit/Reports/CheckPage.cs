namespace SetupAudit.Reports;

/// <summary>
/// The page in a bundle that tells a person how to check it with public tools alone. It is the same in every bundle.
/// </summary>
public static class CheckPage
{
    public const string Html = """
        <!DOCTYPE html>
        <html lang="en">
        <head>
        <meta charset="utf-8">
        <meta http-equiv="Content-Security-Policy" content="default-src 'none'; base-uri 'none'; form-action 'none'">
        <title>How to check this bundle</title>
        </head>
        <body>
        <h1>How to check this bundle without the program that made it</h1>
        <p>You need a shell with sha256sum, openssl (3.0 or newer), xxd, base64 and awk: any Linux has them. Unpack the
        bundle into a folder of its own, open a shell there and run each block. The last step matters as much as the
        commands: ask whoever keeps the record for its key, by another way than the one that brought you this.</p>

        <h2>1. The list, and every file that it names</h2>
        <p>bundle.json names every file with its SHA-256. Nothing must be printed:</p>
        <pre>awk -F'"' '/"name":/ { name = $4 } /"sha256":/ { print $4 "  " name }' bundle.json |
          sha256sum --check --quiet</pre>
        <p>The record says that a bundle with this very list was made; so nothing was left out of it. The name of that
        entry must be printed (where none is, the program that made the bundle could not write the record then, and the
        bundle proves what is in it, and not that it is complete):</p>
        <pre>grep -l "\"bundle\":\"$(sha256sum bundle.json | cut -c1-64)\"" entries/*.json ||
          echo "NOT SAID IN THE RECORD"</pre>

        <h2>2. The evidence</h2>
        <p>Each file below evidence is named by the SHA-256 of its bytes, and an arrival in the record names it. Nothing
        must be printed:</p>
        <pre>for file in evidence/*; do
          [ -e "$file" ] || continue
          sum=$(sha256sum "$file" | cut -c1-64)
          [ "evidence/$sum" = "$file" ] || echo "WRONG $file"
          grep -q "\"sha256\":\"$sum\"" entries/*.json || echo "NOT IN THE RECORD $file"
        done</pre>
        <p>Bytes that people dropped before the bundle was made are listed in bundle.json as evidenceDropped, and an
        entry seals the row that says so; the entry that says who, when and why has "did":"pruned". Nothing must be
        printed:</p>
        <pre>sed -n '/"evidenceDropped"/,/]/p' bundle.json | grep -o '[0-9a-f]\{64\}' | while read -r sum; do
          grep -q "\"table\":\"dropped\".*\"$sum\"" entries/*.json || echo "NOT SAID TO BE DROPPED $sum"
        done</pre>

        <h2>3. What was derived from it</h2>
        <p>Each file below rows is what an entry of the same number sealed: every value as its length, a colon, its text
        and a comma; an empty one as ~; a line for each row. Nothing must be printed:</p>
        <pre>for file in rows/*.rows; do
          number=$(basename "$file" .rows)
          grep -q "\"sha256\":\"$(sha256sum "$file" | cut -c1-64)\"" "entries/$number.json" || echo "WRONG $file"
        done</pre>

        <h2>4. Every entry is in the record</h2>
        <p>The record is a Merkle tree (RFC 9162): the way from the hash of each entry must end at the root that the
        checkpoint holds. A line must be printed for each entry, and none may say NOT:</p>
        <pre>root=$(sed -n 3p checkpoint.txt | base64 -d | xxd -p -c 64)
        for entry in entries/*.json; do
          number=$(basename "$entry" .json)
          hash=$({ printf '\000'; cat "$entry"; } | sha256sum | cut -c1-64)
          while read -r side other; do
            case $side in
              left) hash=$({ printf '\001'; printf '%s' "$other$hash" | xxd -r -p; } | sha256sum | cut -c1-64) ;;
              right) hash=$({ printf '\001'; printf '%s' "$hash$other" | xxd -r -p; } | sha256sum | cut -c1-64) ;;
            esac
          done &lt; "proofs/$number.txt"
          if [ "$hash" = "$root" ]; then echo "entry $number is in the record"
          else echo "entry $number is NOT in the record"; fi
        done</pre>

        <h2>5. The checkpoint is signed</h2>
        <p>The text of the checkpoint is its first three lines; a signature line holds the first four bytes of the key's
        hash and the signature (Ed25519). "Signature Verified Successfully" must be printed:</p>
        <pre>head -n 3 checkpoint.txt &gt; signed-text
        sed -n '5,$p' checkpoint.txt | cut -d ' ' -f 3 | while read -r line; do
          printf '%s' "$line" | base64 -d &gt; signature-line
          [ "$(head -c 4 signature-line | xxd -p)" = "$(cut -d + -f 2 key.txt)" ] || continue
          tail -c +5 signature-line &gt; signature
        done
        openssl pkeyutl -verify -pubin -inkey key.pem -rawin -in signed-text -sigfile signature</pre>

        <h2>6. The record goes on from what it was before</h2>
        <p>Below earlier lie checkpoints that are older than this bundle: the first over all that was known of the
        setup, and the first over each change of the key, which the key before signed as well. Compare one with a copy
        that was kept elsewhere at that time, if you have one. Two hashes are carried along a proof: they must end at
        the roots of both checkpoints. A line must be printed for each checkpoint and for each signature under it, and
        none may say NOT:</p>
        <pre>for file in earlier/*.txt; do
          [ -e "$file" ] || continue
          size=$(basename "$file" .txt)
          while read -r word other; do
            case $word in
              start) older=$other; newer=$other ;;
              both) older=$({ printf '\001'; printf '%s' "$other$older" | xxd -r -p; } | sha256sum | cut -c1-64)
                newer=$({ printf '\001'; printf '%s' "$other$newer" | xxd -r -p; } | sha256sum | cut -c1-64) ;;
              newer) newer=$({ printf '\001'; printf '%s' "$newer$other" | xxd -r -p; } | sha256sum | cut -c1-64) ;;
            esac
          done &lt; "consistency/$size.txt"
          earlier=$(sed -n 3p "$file" | base64 -d | xxd -p -c 64)
          if [ "$older" = "$earlier" ] &amp;&amp; [ "$newer" = "$root" ] &amp;&amp; [ "$size" = "$(sed -n 2p "$file")" ]
          then echo "the record goes on from $file"; else echo "the record does NOT go on from $file"; fi
          head -n 3 "$file" &gt; signed-text
          sed -n '5,$p' "$file" | cut -d ' ' -f 3 | while read -r line; do
            printf '%s' "$line" | base64 -d &gt; signature-line
            tail -c +5 signature-line &gt; signature
            id=$(head -c 4 signature-line | xxd -p)
            key=$(grep -ho '"key":"[^"]*"' entries/*.json | cut -d '"' -f 4 | grep -F "+$id+")
            { printf '302a300506032b6570032100' | xxd -r -p
              printf '%s' "$key" | cut -d + -f 3- | base64 -d | tail -c 32; } &gt; earlier-key
            openssl pkeyutl -verify -pubin -keyform DER -inkey earlier-key -rawin -in signed-text -sigfile signature |
              grep -q Successfully &amp;&amp; echo "$file is signed by $key" || echo "$file is NOT signed by $key"
          done
        done</pre>

        <h2>7. It is the key of that record</h2>
        <p>Both lines must be the same, and the key of the record as its first entry names it (or a later entry of the
        kind "key") is printed below them:</p>
        <pre>openssl pkey -pubin -in key.pem -outform DER | tail -c 32 | xxd -p -c 64
        cut -d + -f 3- key.txt | base64 -d | tail -c 32 | xxd -p -c 64
        grep -ho '"key":"[^"]*"' entries/*.json</pre>
        <p><strong>Now compare key.txt with the key that you were given another way.</strong> Whoever could make a whole
        new record could make a bundle that passes every step above; only the key tells whose record it is.</p>

        <h2>8. When it was there</h2>
        <p>Where stamps lie below stamps, a time-stamp authority (RFC 3161) has said when the checkpoint of the same
        size was there, and with it every entry before. Get the certificates of that authority in PEM from itself, not
        with this bundle, and put them here as authority.pem. For each stamp its moment and "Verification: OK" must be
        printed:</p>
        <pre>for file in stamps/*.tsr; do
          [ -e "$file" ] || continue
          note="earlier/$(basename "$file" .tsr).txt"
          when=$(openssl ts -reply -in "$file" -text 2&gt;/dev/null | sed -n 's/^Time stamp: //p')
          [ -e authority.pem ] || { echo "$note, by $when: NOT CHECKED, there is no authority.pem"; continue; }
          echo "$note was there on $when:"
          seconds=$(date -d "$when" +%s)
          openssl ts -verify -data "$note" -in "$file" -CAfile authority.pem -attime "$seconds" 2&gt;&amp;1
        done</pre>

        <h2>With the program</h2>
        <p>"setupaudit verify FILE.zip --key KEY --authority authority.pem" does all of this at once.</p>

        <h2>What it does not say</h2>
        <p>A bundle that passes was not altered since its checkpoint was signed. It does not say that what a control or
        a person wrote was right, nor that a part is good. It replaces no dry run above the part, no single block, no
        reduced rapid and no rule of the shop; ask qualified people before you rest a decision on it.</p>
        </body>
        </html>

        """;
}
