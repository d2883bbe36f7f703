import { nth } from '../lookups/nth.ts'
import { type Answer, answer, type Refusal, refused } from './answer.ts'
import { sumOf } from './moments.ts'
import { qt } from './qt.ts'
import { rootOf } from './root-of.ts'

interface SoilTestPoint {
  /** Years since the start. */
  readonly year: number
  readonly stock: number
}

interface Estimate {
  readonly estimate: number
  readonly low: number
  readonly high: number
}

export interface FittedOrganicMatter {
  readonly decay: Estimate
  readonly start: Estimate
  readonly levelOff: Estimate
  readonly halfTime: Estimate
  readonly df: number
}

/**
 * Fits decay and starting stock of the one-pool course (see `organicMatter`) to at least four soil tests in three years
 * or more, by least squares, given a steady yearly input that becomes organic matter; 95 % intervals from the
 * linearised fit. Refuses too few tests, and a best fit without decay ("did not converge"): then no level-off can be
 * told.
 */
export function fitOrganicMatter(
  tests: readonly SoilTestPoint[],
  { input, humified }: { readonly input: number; readonly humified: number },
): Answer<FittedOrganicMatter> | Refusal {
  if (tests.length < 4 || new Set(tests.map((one) => one.year)).size < 3)
    return refused('too few', `${tests.length} tests`)
  const brought = input * humified
  const slope = (decay: number) => {
    const { start, residuals } = bestStart(tests, brought, decay)
    return sumOf(residuals.map((rest, i) => rest * byDecay(start, brought, decay, nth(tests, i).year)))
  }
  const grid = Array.from({ length: 400 }, (_, i) => 10 ** (-4 + (i * 3.9) / 399))
  const errors = grid.map((decay) => sumOf(bestStart(tests, brought, decay).residuals.map((rest) => rest * rest)))
  const least = errors.indexOf(Math.min(...errors))
  if (least === 0 || least === grid.length - 1) return refused('did not converge', 'the tests show no level-off')
  const decay = rootOf(slope, nth(grid, least - 1), grid[least + 1] ?? 1)
  return intervals(tests, brought, decay)
}

const byStart = (decay: number, year: number) => Math.exp(-decay * year)

function byDecay(start: number, brought: number, decay: number, year: number): number {
  const left = Math.exp(-decay * year)
  return (-brought / decay ** 2) * (1 - left) + (brought / decay - start) * year * left
}

function bestStart(tests: readonly SoilTestPoint[], brought: number, decay: number) {
  const rest = tests.map(({ year, stock }) => stock - (brought / decay) * (1 - byStart(decay, year)))
  const squares = sumOf(tests.map(({ year }) => byStart(decay, year) ** 2))
  const start = sumOf(tests.map(({ year }, i) => byStart(decay, year) * nth(rest, i))) / squares
  return { start, residuals: tests.map(({ year }, i) => nth(rest, i) - start * byStart(decay, year)) }
}

function intervals(
  tests: readonly SoilTestPoint[],
  brought: number,
  decay: number,
): Answer<FittedOrganicMatter> | Refusal {
  const { start, residuals } = bestStart(tests, brought, decay)
  const df = tests.length - 2
  const variance = sumOf(residuals.map((rest) => rest * rest)) / df
  const [d, s] = [
    tests.map(({ year }) => byDecay(start, brought, decay, year)),
    tests.map(({ year }) => byStart(decay, year)),
  ]
  const [dd, ss, ds] = [sumOf(d.map((v) => v * v)), sumOf(s.map((v) => v * v)), sumOf(d.map((v, i) => v * nth(s, i)))]
  const determinant = dd * ss - ds * ds
  if (!(determinant > 0)) return refused('did not converge', 'the tests do not tell decay from start')
  const t = qt(0.975, df)
  const half = {
    decay: t * Math.sqrt((variance * ss) / determinant),
    start: t * Math.sqrt((variance * dd) / determinant),
  }
  const around = (estimate: number, reach: number) => ({ estimate, low: estimate - reach, high: estimate + reach })
  const [slow, fast] = [Math.max(decay - half.decay, 0), decay + half.decay]
  return answer({
    decay: around(decay, half.decay),
    start: around(start, half.start),
    levelOff: {
      estimate: brought / decay,
      low: brought / fast,
      high: slow > 0 ? brought / slow : Number.POSITIVE_INFINITY,
    },
    halfTime: {
      estimate: Math.LN2 / decay,
      low: Math.LN2 / fast,
      high: slow > 0 ? Math.LN2 / slow : Number.POSITIVE_INFINITY,
    },
    df,
  })
}
