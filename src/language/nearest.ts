/** Edit distance in insertions, deletions, substitutions and swaps of neighbours; `most` + 1 if greater. */
function editDistance(a: string, b: string, most: number): number {
  if (Math.abs(a.length - b.length) > most) return most + 1;
  let before: number[] = [];
  let previous = Array.from({ length: b.length + 1 }, (_, k) => k);
  for (let i = 1; i <= a.length; i++) {
    const row = [i];
    for (let j = 1; j <= b.length; j++) {
      const same = a[i - 1] === b[j - 1];
      let d = Math.min(previous[j]! + 1, row[j - 1]! + 1, previous[j - 1]! + (same ? 0 : 1));
      if (i > 1 && j > 1 && a[i - 1] === b[j - 2] && a[i - 2] === b[j - 1])
        d = Math.min(d, before[j - 2]! + 1);
      row.push(d);
    }
    before = previous;
    previous = row;
  }
  return previous[b.length]!;
}

/**
 * The known word that `word` was probably meant to be: one that differs in capitals only, else the
 * nearest within an edit distance of a third of its length.
 */
export function nearestWord(word: string, known: Iterable<string>): string | undefined {
  const lower = word.toLowerCase();
  let most = Math.floor(word.length / 3);
  let nearest: string | undefined;
  for (const candidate of known) {
    if (candidate === word) continue;
    if (candidate.toLowerCase() === lower) return candidate;
    const distance = most < 1 ? 1 : editDistance(lower, candidate.toLowerCase(), most);
    if (distance > most || (nearest !== undefined && distance === most)) continue;
    nearest = candidate;
    most = distance;
  }
  return nearest;
}

/** Nobody is helped by a search through more names than a real circuit has. */
const MOST_CANDIDATES = 1000;

/** The only known word that begins with `word`. */
function onlyLonger(word: string, known: Iterable<string>): string | undefined {
  if (word.length < 3) return undefined;
  const longer = [...known].filter((candidate) => candidate !== word && candidate.startsWith(word));
  return longer.length === 1 ? longer[0] : undefined;
}

/** `did you mean "X"?` of the nearest known word or the only one that begins so, or nothing. */
export function meant(word: string, known: Iterable<string>): string | undefined {
  const candidates: string[] = [];
  for (const candidate of known) if (candidates.push(candidate) >= MOST_CANDIDATES) break;
  const nearest = nearestWord(word, candidates) ?? onlyLonger(word, candidates);
  return nearest === undefined ? undefined : `did you mean "${nearest}"?`;
}
