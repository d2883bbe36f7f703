import { readFileSync } from 'node:fs'
import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { pchisq } from '../../src/statistics/pchisq.ts'
import { pf } from '../../src/statistics/pf.ts'
import { pnct } from '../../src/statistics/pnct.ts'
import { pnorm } from '../../src/statistics/pnorm.ts'
import { pt } from '../../src/statistics/pt.ts'
import { ptukey } from '../../src/statistics/ptukey.ts'
import { qnorm } from '../../src/statistics/qnorm.ts'
import { qt } from '../../src/statistics/qt.ts'
import { qtukey } from '../../src/statistics/qtukey.ts'
import { rootOf } from '../../src/statistics/root-of.ts'
import { close } from './close.ts'
import { qchisq } from './qchisq.ts'
import { qf } from './qf.ts'

type Row = [name: string, args: number[], value: number]
const { rows } = JSON.parse(readFileSync('test/statistics/published/distributions.json', 'utf8')) as { rows: Row[] }

const ours: Record<string, (args: number[]) => number> = {
  pt: ([t = 0, df = 1]) => pt(t, df),
  'pt upper': ([t = 0, df = 1]) => pt(t, df, { upper: true }),
  pf: ([f = 0, a = 1, b = 1]) => pf(f, a, b),
  'pf upper': ([f = 0, a = 1, b = 1]) => pf(f, a, b, { upper: true }),
  pchisq: ([x = 0, df = 1]) => pchisq(x, df),
  'pchisq upper': ([x = 0, df = 1]) => pchisq(x, df, { upper: true }),
  pnorm: ([z = 0]) => pnorm(z),
  pnct: ([t = 0, df = 1, ncp = 0]) => pnct(t, df, ncp),
}

describe('against R over a wide grid, to a relative 1e-10 (the script that made it stands beside it)', () => {
  it.each(Object.keys(ours))('%s', (name) => {
    const own = rows.filter((row) => row[0] === name && row[2] > 1e-280)
    expect(own.length).toBeGreaterThan(10)
    // R's own noncentral t stops its series at 1e-12 absolute (its help page), so it is compared to that.
    for (const [, args, value] of own) {
      if (name === 'pnct') expect(Math.abs((ours[name]?.(args) ?? 0) - value)).toBeLessThan(1e-11)
      else close(ours[name]?.(args) ?? 0, value, 1e-10)
    }
  })
})

const df = fc.double({ min: 1, max: 10_000, noNaN: true })
const p = fc.double({ min: 1e-9, max: 1 - 1e-9, noNaN: true })

it('a quantile goes back to its probability, and the tails add up to one', () => {
  fc.assert(
    fc.property(p, df, df, (at, one, other) => {
      close(pt(qt(at, one), one), at, 1e-10)
      close(pf(qf(at, one, other), one, other), at, 1e-9)
      close(pchisq(qchisq(at, one), one), at, 1e-10)
      close(pnorm(qnorm(at)), at, 1e-10)
      const t = qt(at, one)
      expect(pt(t, one) + pt(t, one, { upper: true })).toBeCloseTo(1, 13)
      expect(pnct(t, one, 1.5) + pnct(t, one, 1.5, { upper: true })).toBeCloseTo(1, 11)
    }),
    { numRuns: 60 },
  )
})

it('noncentral t without noncentrality is Student’s t', () => {
  for (const t of [-3, 0.2, 4]) close(pnct(t, 7.5, 1e-12), pt(t, 7.5), 1e-10)
})

describe('the studentised range', () => {
  it('is the t distribution for two means, at any degrees of freedom', () => {
    fc.assert(
      fc.property(fc.double({ min: 0.05, max: 30, noNaN: true }), df, (q, nu) => {
        expect(Math.abs(ptukey(q, 2, nu) - (1 - 2 * pt(q / Math.SQRT2, nu, { upper: true })))).toBeLessThan(1e-10)
      }),
      { numRuns: 25 },
    )
  })

  it('does not change when its panels are doubled', () => {
    for (const [q, k, nu] of [
      [3.5, 3, 10],
      [1, 12, 1],
      [9, 5, 2.5],
      [4.4, 6, 20],
      [6, 30, 10_000],
    ] as const) {
      expect(Math.abs(ptukey(q, k, nu) - ptukey(q, k, nu, { panels: 16 }))).toBeLessThan(1e-11)
    }
  })

  // Quantiles of R 4.2.2, which is itself off by up to 3e-8 at ten degrees of freedom and more at few: hence 5e-7.
  it.each([
    [0.95, 3, 10, 3.876776749],
    [0.95, 3, 27, 3.506426123],
    [0.95, 4, 45, 3.772696779],
    [0.95, 5, 20, 4.231856683],
    [0.95, 6, 20, 4.4452366],
    [0.99, 4, 20, 5.0180161],
    [0.95, 6, Number.POSITIVE_INFINITY, 4.0300921],
  ])('q(%f; %i, %f)', (at, k, nu, value) => {
    close(qtukey(at, k, nu), value, 5e-7)
    close(ptukey(qtukey(at, k, nu), k, nu), at, 1e-10)
  })
})

it('quantiles of handbooks: t and F (Fisher & Yates, Statistical Tables), as R prints them', () => {
  for (const [nu, value] of [
    [1, 12.7062047362],
    [2, 4.30265272975],
    [10, 2.22813885199],
    [24.2356393, 2.062837158],
    [45, 2.01410338888],
  ] as const) {
    close(qt(0.975, nu), value, 1e-9)
  }
  close(qf(0.95, 2, 10), 4.10282101513, 1e-10)
  close(qf(0.95, 3, 39), 2.845067805, 1e-8)
})

it('a root is found in far fewer steps than by halving (Brent 1973)', () => {
  const counted = (f: (x: number) => number, from: number, to: number) => {
    let count = 0
    const root = rootOf(
      (x) => {
        count += 1
        return f(x)
      },
      from,
      to,
    )
    return { root, count }
  }
  const square = counted((x) => x * x - 2, 0, 2)
  close(square.root, Math.SQRT2, 1e-15)
  expect(square.count).toBeLessThan(14)
  const range = counted((q) => ptukey(q, 5, 10) - 0.95, 0, 8)
  close(range.root, 4.654293, 1e-6)
  expect(range.count).toBeLessThan(20)
})
