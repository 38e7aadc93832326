/** Pairs of a row and a column with what pairing them is worth; each pair of numbers at most once. */
export type Edges = { readonly row: number[]; readonly column: number[]; readonly worth: number[] };

/**
 * The pairs, each row and column in one at most, that are worth most together. Only pairs worth more than nothing are
 * ever taken. Rows and columns that no chain of pairs connects are solved apart.
 * @returns for each row the place of its pair in `edges`, or -1.
 * @see Kuhn, "The Hungarian Method for the Assignment Problem", Naval Research Logistics Quarterly 2 (1955); Jonker and
 * Volgenant, "A Shortest Augmenting Path Algorithm for Dense and Sparse Linear Assignment Problems", Computing 38 (1987).
 */
export function bestPairs(edges: Edges, rows: number, columns: number): Int32Array {
  const taken = new Int32Array(rows).fill(-1);
  const { row, column, worth } = edges;
  if (row.length === 0) return taken;
  const parent = Int32Array.from({ length: rows + columns }, (_, at) => at);
  const rootOf = (at: number): number => {
    let root = at;
    while (parent[root] !== root) {
      parent[root] = parent[parent[root] as number] as number;
      root = parent[root] as number;
    }
    return root;
  };
  for (let at = 0; at < row.length; at++) {
    if ((worth[at] as number) <= 0) continue;
    const [a, b] = [rootOf(row[at] as number), rootOf(rows + (column[at] as number))];
    if (a !== b) parent[b] = a;
  }
  const parts = new Map<number, number[]>();
  for (let at = 0; at < row.length; at++) {
    if ((worth[at] as number) <= 0) continue;
    const root = rootOf(row[at] as number);
    const part = parts.get(root);
    if (part === undefined) parts.set(root, [at]);
    else part.push(at);
  }
  for (const part of parts.values()) {
    const [only] = part;
    if (part.length === 1 && only !== undefined) taken[row[only] as number] = only;
    else solvePart(part, edges, taken);
  }
  return taken;
}

/** Shortest augmenting paths, row by row, over a full matrix in which a row may also take a column of its own for nothing. */
function solvePart(part: readonly number[], { row, column, worth }: Edges, taken: Int32Array): void {
  const rowNumbers = new Map<number, number>();
  const columnNumbers = new Map<number, number>();
  for (const at of part) {
    const [r, c] = [row[at] as number, column[at] as number];
    if (!rowNumbers.has(r)) rowNumbers.set(r, rowNumbers.size);
    if (!columnNumbers.has(c)) columnNumbers.set(c, columnNumbers.size);
  }
  const height = rowNumbers.size;
  const real = columnNumbers.size;
  const width = real + height;
  const cost = new Float64Array(height * width).fill(Number.POSITIVE_INFINITY);
  const edgeAt = new Int32Array(height * real).fill(-1);
  for (let r = 0; r < height; r++) cost[r * width + real + r] = 0;
  for (const at of part) {
    const r = rowNumbers.get(row[at] as number) as number;
    const c = columnNumbers.get(column[at] as number) as number;
    cost[r * width + c] = -(worth[at] as number);
    edgeAt[r * real + c] = at;
  }
  const columnOf = solveDense(cost, height, width);
  for (const [number, r] of rowNumbers) {
    const c = columnOf[r] as number;
    if (c < real) taken[number] = edgeAt[r * real + c] as number;
  }
}

function solveDense(cost: Float64Array, height: number, width: number): Int32Array {
  const rowPrice = new Float64Array(height);
  const columnPrice = new Float64Array(width);
  const rowOf = new Int32Array(width).fill(-1);
  const columnOf = new Int32Array(height).fill(-1);
  const distance = new Float64Array(width);
  const from = new Int32Array(width);
  const done = new Uint8Array(width);
  for (let start = 0; start < height; start++) {
    distance.fill(Number.POSITIVE_INFINITY);
    done.fill(0);
    let r = start;
    let reached = 0;
    let end = -1;
    let last = -1;
    while (end < 0) {
      let next = -1;
      let least = Number.POSITIVE_INFINITY;
      for (let c = 0; c < width; c++) {
        if (done[c] === 1) continue;
        const through =
          reached + (cost[r * width + c] as number) - (rowPrice[r] as number) - (columnPrice[c] as number);
        if (through < (distance[c] as number)) {
          distance[c] = through;
          from[c] = last;
        }
        if ((distance[c] as number) < least) {
          least = distance[c] as number;
          next = c;
        }
      }
      done[next] = 1;
      reached = least;
      last = next;
      if (rowOf[next] === -1) end = next;
      else r = rowOf[next] as number;
    }
    for (let c = 0; c < width; c++) {
      if (done[c] !== 1) continue;
      const change = reached - (distance[c] as number);
      columnPrice[c] = (columnPrice[c] as number) - change;
      const owner = rowOf[c] as number;
      if (owner >= 0) rowPrice[owner] = (rowPrice[owner] as number) + change;
    }
    rowPrice[start] = (rowPrice[start] as number) + reached;
    for (let c = end; c >= 0; ) {
      const before = from[c] as number;
      const owner = before < 0 ? start : (rowOf[before] as number);
      rowOf[c] = owner;
      columnOf[owner] = c;
      c = before;
    }
  }
  return columnOf;
}
