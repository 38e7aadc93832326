/** Numbers tied into groups; the least of a group stands for it. */
export class Ties {
  readonly #parent = new Map<number, number>();

  rootOf(number: number): number {
    let root = number;
    for (let next = this.#parent.get(root); next !== undefined; next = this.#parent.get(root)) root = next;
    return root;
  }

  tie(one: number, other: number): void {
    const [a, b] = [this.rootOf(one), this.rootOf(other)];
    if (a !== b) this.#parent.set(Math.max(a, b), Math.min(a, b));
  }

  /** Groups of two and more. */
  groups(): readonly (readonly number[])[] {
    const groups = new Map<number, number[]>();
    for (const number of this.#parent.keys()) {
      const root = this.rootOf(number);
      const group = groups.get(root);
      if (group === undefined) groups.set(root, [root, number]);
      else group.push(number);
    }
    return [...groups.values()];
  }
}
