interface RunningTotal {
  readonly total: number | null
  /** false after a week that is not known: the true total is that or more. */
  readonly sure: boolean
}

/** Week by week the sum so far. A week not known (null) has no total; those after it are at least what is given. */
export function runningTotals(weekly: readonly (number | null)[]): RunningTotal[] {
  let [sum, sure] = [0, true]
  return weekly.map((value) => {
    if (value === null) sure = false
    else sum += value
    return { total: value === null ? null : sum, sure }
  })
}

interface Crossing {
  /**
   * The week, counted from 0, from whose end on the order of the two totals is the other way round; null where it never
   * turned.
   */
  readonly week: number | null
  /** The total of both at the end of that week. */
  readonly totals: readonly [number, number] | null
  /** How often it turned; the week is that of the last time. */
  readonly times: number
  /** Weeks from the first on in which both are known: nothing is said of those after. */
  readonly weeksKnown: number
}

/**
 * The week in which the running total of one passes that of the other, such as the labour of a method that is dear to
 * establish and cheap to keep. Equal totals are no order: two that meet and part again as before have not crossed. By
 * week 2 here, 3 + 3 against 5 + 2, the first is behind, by week 3 ahead: `crossingWeek([3, 3, 4], [5, 2, 1]).week` is
 * 2.
 */
export function crossingWeek(one: readonly (number | null)[], other: readonly (number | null)[]): Crossing {
  const sums: [number, number] = [0, 0]
  let [sign, times, week, weeksKnown] = [0, 0, null as number | null, 0]
  let totals: [number, number] | null = null
  for (let i = 0; i < Math.min(one.length, other.length); i += 1) {
    const [a, b] = [one[i] ?? null, other[i] ?? null]
    if (a === null || b === null) break
    sums[0] += a
    sums[1] += b
    weeksKnown = i + 1
    const now = Math.sign(sums[0] - sums[1])
    if (now !== 0 && sign !== 0 && now !== sign) {
      times += 1
      week = i
      totals = [...sums]
    }
    if (now !== 0) sign = now
  }
  return { week, totals, times, weeksKnown }
}
