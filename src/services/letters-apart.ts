/**
 * The least number of letters to add, leave out, change or swap with their neighbour.
 * @see Damerau, A technique for computer detection and correction of spelling errors, Communications of the ACM 7 (1964).
 */
export function lettersApart(a: string, b: string): number {
  let twoBack: number[] = [];
  let back = Array.from({ length: b.length + 1 }, (_, column) => column);
  for (let row = 1; row <= a.length; row++) {
    const line = [row];
    for (let column = 1; column <= b.length; column++) {
      const same = a[row - 1] === b[column - 1];
      let least = Math.min(
        (back[column] ?? 0) + 1,
        (line[column - 1] ?? 0) + 1,
        (back[column - 1] ?? 0) + (same ? 0 : 1),
      );
      if (a[row - 1] === b[column - 2] && a[row - 2] === b[column - 1])
        least = Math.min(least, (twoBack[column - 2] ?? 0) + 1);
      line.push(least);
    }
    twoBack = back;
    back = line;
  }
  return back[b.length] ?? 0;
}
