interface Tick {
  readonly value: number
  /** How many the number needs to be told from its neighbours. */
  readonly decimals: number
}

export interface Scale {
  /** Where a value stands; one outside the scale stands at its edge. */
  at(value: number): number
  /** -1 or 1 where a value lies outside the scale, else 0. */
  outside(value: number): number
  readonly ticks: readonly Tick[]
}

interface Onto {
  readonly from: number
  readonly to: number
  /** About how many ticks. */
  readonly count: number
}

/** Beyond these a number is drawn at the edge, or as zero, so that no sum of two overflows. */
const [largest, smallest] = [1e150, 1e-150]

export const isKnown = (value: number | null | undefined): value is number =>
  typeof value === 'number' && !Number.isNaN(value)

/** Even steps of 1, 2 or 5 times a power of ten, from the step below the lowest value to the step above the highest. */
export function linearScale(values: readonly number[], onto: Onto): Scale {
  const [low, high] = spanOf(values.filter(isKnown).map(bounded))
  const step = roundStep((high - low) / onto.count)
  const [first, last] = [Math.floor(low / step + 1e-9), Math.ceil(high / step - 1e-9)]
  const decimals = decimalsOf(step)
  const ticks = Array.from({ length: last - first + 1 }, (_, i) => ({ value: (first + i) * step, decimals }))
  return scaleOf(first * step, last * step, onto, ticks, (value) => value)
}

/**
 * Even steps of a factor; only values above 0 make the scale. Ticks are round numbers within it, with those that must
 * be there.
 */
export function logScale(values: readonly number[], onto: Onto, also: readonly number[] = []): Scale {
  const usable = values.filter((value) => value >= smallest && value <= largest)
  const [lowest, highest] = usable.length === 0 ? [1, 1] : [Math.min(...usable), Math.max(...usable)]
  const pad = highest / lowest < 1.5 ? 1.25 : 1.06
  const [low, high] = [lowest / pad, highest * pad]
  const ticks = logTicks(low, high, onto.count)
  const missing = also.filter((value) => value > 0 && !ticks.some((tick) => Math.abs(tick.value / value - 1) < 1e-9))
  const added = missing.map((value) => ({ value, decimals: digitsOf(value) }))
  return scaleOf(low, high, onto, [...added, ...ticks], Math.log)
}

/** From the first to the last value, without steps of its own. */
export function plainScale(values: readonly number[], { from, to }: Omit<Onto, 'count'>): Scale {
  const known = values.filter(isKnown).map(bounded)
  const [low, high] = known.length === 0 ? [0, 1] : [Math.min(...known), Math.max(...known)]
  const [first, last] = high > low ? [low, high] : [low - 1, high + 1]
  return scaleOf(first, last, { from, to, count: 1 }, [], (value) => value)
}

function scaleOf(low: number, high: number, onto: Onto, ticks: readonly Tick[], on: (value: number) => number): Scale {
  const [start, length] = [on(low), on(high) - on(low)]
  const part = (value: number) => (value <= low ? 0 : value >= high ? 1 : (on(value) - start) / length)
  const slack = 1e-9 * length
  return {
    at: (value) => onto.from + (onto.to - onto.from) * part(value),
    outside: (value) => {
      if (value < low) return on(value) >= start - slack ? 0 : -1
      return value > high && on(value) > start + length + slack ? 1 : 0
    },
    ticks,
  }
}

function spanOf(values: readonly number[]): [number, number] {
  const [low, high] = values.length === 0 ? [0, 0] : [Math.min(...values), Math.max(...values)]
  const size = Math.max(Math.abs(low), Math.abs(high))
  if (size === 0) return [0, 1]
  return high - low > 1e-9 * size ? [low, high] : [low - size / 10, high + size / 10]
}

/** A number that the scales can add up: none beyond the largest, none nearer to zero than the smallest. */
export function bounded(value: number): number {
  if (Math.abs(value) < smallest) return 0
  return Math.min(Math.max(value, -largest), largest)
}

function roundStep(rough: number): number {
  const power = 10 ** Math.floor(Math.log10(rough))
  return power * ([1, 2, 5].find((one) => one * power >= rough * 0.999) ?? 10)
}

/** Within a factor of six even steps read best; over that round numbers; over three powers of ten the powers alone. */
function logTicks(low: number, high: number, count: number): Tick[] {
  if (high / low <= 6) {
    const step = roundStep((high - low) / count)
    const first = Math.ceil(low / step)
    const length = Math.max(0, Math.floor(high / step) - first + 1)
    return Array.from({ length }, (_, i) => ({ value: (first + i) * step, decimals: decimalsOf(step) }))
  }
  const [first, last] = [Math.floor(Math.log10(low)), Math.ceil(Math.log10(high))]
  const stride = Math.ceil((last - first) / (2 * count))
  const powers = Array.from({ length: Math.floor((last - first) / stride) + 1 }, (_, i) => 10 ** (first + i * stride))
  const round = high / low <= 30 ? [1, 1.5, 2, 3, 5, 7] : [1, 2, 5]
  const within = last - first > 3 ? powers : powers.flatMap((power) => round.map((one) => one * power))
  return within
    .filter((value) => value >= low && value <= high)
    .map((value) => ({ value, decimals: last - first > 3 ? decimalsOf(value) : digitsOf(value) }))
}

const decimalsOf = (step: number) => Math.min(12, Math.max(0, -Math.floor(Math.log10(step) + 1e-9)))

/** Of a number that need not be a round step: up to four. */
const digitsOf = (value: number) =>
  [0, 1, 2, 3].find((digits) => Math.abs(value * 10 ** digits - Math.round(value * 10 ** digits)) < 1e-9) ?? 4
