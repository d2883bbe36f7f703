import { formatNumber } from '../quantities/formatting.ts'

export interface GardenCourse {
  readonly garden: string
  /** Grams so far at the end of each week. */
  readonly now: readonly number[]
  readonly before: readonly number[]
}

const frame = { width: 220, height: 84, foot: 4, labels: 68 }

/**
 * Small pictures side by side, all on one scale: kilograms through the season, and the season before as a thin line.
 */
export function kilogramsPage(courses: readonly GardenCourse[], weeks: number, locale: string) {
  const most = Math.max(1, ...courses.flatMap((one) => [...one.now, ...one.before]))
  const x = (week: number) => round((week * (frame.width - frame.labels)) / Math.max(1, weeks - 1))
  const y = (grams: number) => round(frame.height - frame.foot - (grams / most) * (frame.height - 22))
  const points = (grams: readonly number[]) => grams.map((one, week) => `${x(week)},${y(one)}`).join(' ')
  return courses.map(({ garden, now, before }) => {
    const [latest, last] = [now.at(-1), before.at(-1)]
    const [nowY, lastY] = apart(latest === undefined ? null : y(latest), last === undefined ? null : y(last))
    return {
      garden,
      ...frame,
      base: frame.height - frame.foot,
      end: x(weeks - 1),
      now: points(now),
      before: points(before),
      // Before anything was weighed there is no figure to say.
      nowAt:
        latest === undefined || latest === 0
          ? null
          : { x: x(now.length - 1) + 5, y: nowY, text: kilograms(latest, locale) },
      beforeAt: last === undefined ? null : { x: x(before.length - 1) + 5, y: lastY, text: kilograms(last, locale) },
    }
  })
}

/** One decimal: three would stand beyond the edge of a picture this small. */
const kilograms = (grams: number, locale: string) => `${formatNumber(grams / 1000, locale, 1)} kg`

const round = (value: number) => Math.round(value * 10) / 10

/** Two labels at the ends of two lines, a line's height apart. */
function apart(one: number | null, other: number | null): [number, number] {
  // Where a side is unknown its label is not drawn, and the other has the room.
  if (one === null || other === null) return [(one ?? 0) + 4, (other ?? 0) + 4]
  const gap = 15
  if (Math.abs(one - other) >= gap) return [one + 4, other + 4]
  const middle = Math.min(Math.max((one + other) / 2, gap), frame.height - gap)
  return one <= other ? [middle - gap / 2 + 4, middle + gap / 2 + 4] : [middle + gap / 2 + 4, middle - gap / 2 + 4]
}
