import { readFileSync } from 'node:fs'
import { describe, expect, it } from 'vitest'
import { methodsTogether } from '../../src/comparison/findings/methods-together.ts'
import { plotModel } from '../../src/comparison/findings/seasons-together.ts'
import type { TrialRecord } from '../../src/comparison/record/trial-record.ts'
import { fitMixedModel } from '../../src/statistics/fit-mixed-model.ts'
import { catalogue } from '../../src/words/catalogue.ts'
import { laidBeds } from '../support/layouts.ts'
import { got } from '../support/record.ts'

interface ByR {
  readonly holders: number
  readonly grams: readonly number[]
  /** Estimate, standard error and degrees of freedom of B over A, in logarithms. */
  readonly satterthwaite: readonly number[]
  readonly kenwardRoger: readonly number[]
  readonly sd: Readonly<Record<string, number>>
}
/** By lme4, lmerTest and pbkrtest: the script stands beside it. */
const byR = JSON.parse(readFileSync(new URL('./by-r/blocks.json', import.meta.url), 'utf8')) as Record<string, ByR>
const five = byR['five blocks'] as ByR
const four = byR['four blocks, fixed'] as ByR
const six = byR['six split gardens'] as ByR

/** Two crops on 1 m2 each of every place, as the script draws them: crop, then method, then block or garden. */
function grown({ holders, grams }: ByR, holder: 'block' | 'garden'): TrialRecord {
  const places = Array.from({ length: holders }, (_, h) => ['A', 'B'].map((method) => ({ h, method }))).flat()
  const record = laidBeds(
    places.map(({ h, method }) => ({
      ...{ garden: holder === 'garden' ? `g${h}` : 'one', method, kg: [0], minutes: [60], cents: [1] },
      ...(holder === 'block' ? { block: `block ${h}` } : {}),
    })),
  )
  const plantings = record.beds.flatMap((bed, i) =>
    [0, 1].map((c) => ({
      ...{
        id: `${c} ${bed.id}`,
        seasonId: 's0',
        bedId: bed.id,
        crop: `c${c}`,
        cultivar: 'x',
        matchedSetId: `set ${c}`,
      },
      ...{ areaCm2: 10_000, purpose: 'harvest', cleared: true, marketableG: grams[2 * i + c] ?? 0, unmarketableG: 0 },
    })),
  )
  return { ...record, plantings }
}

const model = (record: TrialRecord) => got(plotModel(record, ['s0'], { methodA: 'A', methodB: 'B' }))

describe('single plantings in one model, as R has them', () => {
  it.each([
    ['five blocks of beds: a random term', five, 'block', { block: 'holder', bed: 'place' }],
    ['four blocks of beds: fixed', four, 'block', { bed: 'place' }],
    ['six split gardens', six, 'garden', { garden: 'holder', 'garden by method': 'place' }],
  ] as const)('%s', (_name, given, holder, spreads) => {
    const found = model(grown(given, holder))
    const [estimate = 0, se = 0, df = 0] = given.satterthwaite
    expect(Math.log(found.ratio)).toBeCloseTo(estimate, 6)
    expect(found.df).toBeCloseTo(df, 2)
    // Half the interval over the quantile of t is the standard error; 2.7764451 on 4, 3.1824463 on 3, 2.5705818 on 5 (R, qt).
    const t = { 4: 2.7764451, 3: 3.1824463, 5: 2.5705818 }[Math.round(df)] ?? Number.NaN
    expect((Math.log(found.high) - estimate) / t).toBeCloseTo(se, 4)
    for (const [ours, theirs] of Object.entries(spreads)) {
      expect(found.spreads[ours]).toBeCloseTo(given.sd[theirs] ?? Number.NaN, 4)
    }
    expect(found.after).toBe(holder)
    expect(found.plots).toBe(given.grams.length)
  })

  it.each([
    ['five blocks', five],
    ['six split gardens', six],
  ])('%s: Kenward and Roger as R has them too', (_name, { holders, grams, kenwardRoger }) => {
    const rows = grams.map((weight, i) => ({
      weight,
      crop: `c${i % 2}`,
      method: 'AB'[Math.floor(i / 2) % 2] ?? '',
      h: i >> 2,
    }))
    const fit = got(
      fitMixedModel({
        y: rows.map((row) => Math.log(row.weight / 1000)),
        fixed: { crop: rows.map((row) => row.crop), method: rows.map((row) => row.method) },
        random: { holder: rows.map((row) => String(row.h)), place: rows.map((row) => `${row.h} ${row.method}`) },
        df: 'kenward-roger',
      }),
    )
    expect(new Set(rows.map((row) => row.h)).size).toBe(holders)
    const own = fit.coefficients.find((one) => one.name === 'method=B')
    const [estimate = 0, se = 0, df = 0] = kenwardRoger
    expect([own?.estimate, own?.se, own?.df].map((x) => x?.toFixed(4))).toEqual(
      [estimate, se, df].map((x) => x.toFixed(4)),
    )
  })
})

describe('spreads are told after what holds the places', () => {
  it('two methods in blocks: the variation left, and no ratio of spreads, since each is the other turned round', () => {
    const record = grown(five, 'block')
    const found = got(methodsTogether(record, ['s0'], ['A', 'B']))
    expect([found.after, found.df, found.spreads]).toEqual(['block', 4, null])
    const words = catalogue.replicated
    expect(words.cvSay('12', found.after)).toBe(
      'Places of one method, after blocks, differ by about 12 % (trial coefficient of variation).',
    )
    expect(words.spread('beds', '0.12', 'block')).toBe('Spread between beds, after blocks, log scale: 0.12')
  })

  it('three methods in three blocks, by hand: spreads are of what is left when each block’s mean is taken away', () => {
    // Logarithms 0, 1, 2 | 1, 2, 6 | 2, 6, 4 for A, B, C: block means 1, 3, 4.
    const logs = [
      [0, 1, 2],
      [1, 2, 6],
      [2, 6, 4],
    ]
    const record = laidBeds(
      logs.flatMap((own, b) =>
        own.map((log, m) => ({
          ...{ garden: 'one', method: 'ABC'[m] ?? '', block: `block ${b}`, kg: [1000 * Math.exp(log)] },
          ...{ minutes: [60], cents: [1] },
        })),
      ),
    )
    const found = got(methodsTogether(record, ['s0'], ['A', 'B', 'C']))
    // Left: A -1, -2, -2; B 0, -1, 2; C 1, 3, 0. Standard deviations 0.57735, 1.52753 and 1.52753.
    expect(found.spreads?.logs).toBeCloseTo(1.5275252 / 0.5773503, 4)
    expect(found.after).toBe('block')
  })
})
