/** Whether the style of a rank is kept in address after its holder has left the service. */
export type Courtesy = 'yes' | 'sometimes' | 'no';

/** One rank of one service. Two ranks are the same post when `service` and `id` agree. */
export type Rank = {
  /** Stable within the service: `lieutenant`. */
  readonly id: string;
  readonly service: string;
  /** As a report prints it: `Lieutenant`. */
  readonly title: string;
  /** Place on the ladder, larger is senior; undefined in a service without a ladder. */
  readonly order: number | undefined;
  /**
   * Number of the main step of a military ladder (ensign 0, lieutenant 1, captain 2 …), undefined for every other rank.
   * Only main steps can be implied by a rank above them.
   */
  readonly step: number | undefined;
  readonly courtesy: Courtesy;
  /** An appointment that is held beside a rank (adjutant, paymaster …) and takes no part in succession. */
  readonly concurrent: boolean;
  /**
   * A branch beside the fighting line (`medical`, `warrant` …), with an order of its own on the same ladder: no main
   * step is implied between or below such ranks. Absent for the line.
   */
  readonly branch?: string;
};
