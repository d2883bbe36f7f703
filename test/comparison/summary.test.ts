import { describe, expect, it } from 'vitest'
import { findingsOf } from '../../src/comparison/findings/findings.ts'
import { priceOfAnHour } from '../../src/comparison/findings/price-of-an-hour.ts'
import { seasonsToSettle } from '../../src/comparison/findings/seasons-to-settle.ts'
import { summaryOfRecord } from '../../src/comparison/findings/summary-of-record.ts'
import { summaryTold, times } from '../../src/comparison/findings/summary-told.page.ts'
import { seasonWeeks } from '../../src/comparison/record/near-weeks.ts'
import type { TrialRecord } from '../../src/comparison/record/trial-record.ts'
import { laidBeds } from '../support/layouts.ts'
import { pair, recordOf } from '../support/record.ts'

const carrots = (a: number, b: number) => ({ carrot: { m2: 4, a, b } })

function told(record: TrialRecord, locale = 'en-NZ') {
  const seasonIds = record.seasons.map((one) => one.id)
  const found = findingsOf(record, { seasonIds, referenceId: 'dug', questionLocked: false })
  return summaryTold(summaryOfRecord(record, seasonIds, { referenceId: 'dug', found }), locale, 'NZD')
}

/** All weeks closed, with hours and paid inputs by season and bed. */
function worked(
  ratios: readonly number[],
  hours: readonly { a: number; b: number }[],
  paid: readonly { a: number; b: number }[] = [],
): TrialRecord {
  const base = recordOf(ratios.map((ratio) => carrots(10, 10 * ratio)))
  const both = ['a', 'b'] as const
  return {
    ...base,
    labour: hours.flatMap((own, i) =>
      both.map((bed) => ({
        ...{ seasonId: `s${i}`, task: 'weeding', phase: 'established', bedIds: [bed] },
        personMinutes: Math.round(own[bed] * 60),
      })),
    ),
    spreadings: paid.flatMap((own, i) =>
      both.map((bed) => ({
        ...{ seasonId: `s${i}`, bedIds: [bed], phase: 'established' },
        ...{ costMinor: Math.round(own[bed] * 100), cashMinor: Math.round(own[bed] * 100) },
        ...{ usefulLifeSeasons: 1, kind: 'compost' },
      })),
    ),
    closings: base.seasons.flatMap((season) =>
      ['A', 'B'].flatMap((gardenId) =>
        seasonWeeks(base, season.id).flatMap((isoWeek) =>
          (['hours', 'weights'] as const).map((what) => ({
            ...{ gardenId, isoWeek, what },
          })),
        ),
      ),
    ),
  }
}

it('names the ends of several, and all of them by their number', () => {
  const record = recordOf([carrots(10, 15)])
  const plain = summaryOfRecord(record, ['s0'], {
    referenceId: 'dug',
    found: findingsOf(record, { seasonIds: ['s0'], referenceId: 'dug', questionLocked: false }),
  })
  const beside = (name: string, ratio: number) => ({ name, ratio, low: null, high: null })
  const described = [beside('Long Bank', 1.4), beside('Orchard Edge', 0.89), beside('Clover Strip', 0.9)]
  const [weight] = plain.measures
  if (!weight) throw new Error('no measure')
  const of = (others: number) => summaryTold({ ...plain, others, measures: [{ ...weight, described }] }, 'en-NZ', 'NZD')
  const ends = 'gave between 0.89 (Orchard Edge) and 1.4 times (Long Bank) the weight a square metre of Lower Terrace'
  expect(of(3).sentences[0]).toBe(`All three ${ends}; one season cannot say how sure this is.`)
  expect(of(4).sentences[0]).toContain(`Long Bank, Orchard Edge and Clover Strip ${ends}`)
})

describe('the summary', () => {
  it('gives the range where nothing is told, and never says that there is no difference', () => {
    const { title, sentences, sure } = told(recordOf([0.7, 1.4, 0.8].map((ratio) => carrots(10, 10 * ratio))))
    expect(title).toMatch(/^By weight the two could not be told apart/)
    expect(sentences[0]).toMatch(
      /^Long Bank could not be told apart from Lower Terrace by weight: anything from 0\.\d+ to \d\.\d times/,
    )
    expect([title, ...sentences].join(' ')).not.toMatch(/no difference|does not|alike/)
    expect(sure[1]?.said.join(' ')).toContain('one garden a method')
  })

  it('names the garden that gave more, about how much, its interval and its limit in one sentence', () => {
    const { title, sentences } = told(recordOf([1.5, 1.52, 1.48].map((ratio) => carrots(10, 10 * ratio))))
    expect(title).toMatch(/^Long Bank gave more than Lower Terrace/)
    expect(sentences[0]).toBe(
      'Long Bank gave about 1.5 times (1.5–1.6) the weight a square metre of Lower Terrace, over a few seasons only.',
    )
  })

  it('says of one season that it has no interval', () => {
    const { title, sentences } = told(recordOf([carrots(10, 15)]))
    expect(title).toBe(
      'One season cannot tell the gardens apart by weight; the gardens cannot be compared by hours yet',
    )
    expect(sentences[0]).toContain('; one season cannot say how sure this is.')
    expect(sentences.slice(1)).toEqual(['Long Bank cannot be compared by hours or by inputs for a kilogram.'])
  })

  it('says once what is so of several measures', () => {
    const both = told(worked([1.5], [{ a: 4, b: 2 }]))
    expect(both.title).toBe('One season cannot tell the gardens apart by weight or by hours')
    const onlyLeft = recordOf([{ carrot: { m2: 4, a: 10, b: 15 } }])
    const bare = { ...onlyLeft, plantings: onlyLeft.plantings.map((one) => ({ ...one, matchedSetId: null })) }
    const none = told(bare)
    expect(none.title).toBe('The gardens cannot be compared by weight or by hours yet')
    expect(none.sentences).toEqual(['Long Bank cannot be compared by weight, by hours or by inputs for a kilogram.'])
  })

  it('has at most three sentences, and the title leads with what was told', () => {
    const hours = [2, 2.1, 1.9].map((b) => ({ a: 4, b }))
    const found = told(worked([0.7, 1.4, 0.8], hours))
    expect(found.title).toMatch(/^Long Bank took less work than Lower Terrace; by weight the two could not be told/)
    expect(found.sentences.length).toBeLessThanOrEqual(3)
    expect(found.sentences[1]).toMatch(/^Long Bank took about 0\.50 times \(.+\) the hours a square metre/)
  })

  it('says so where there is nothing to hold together', () => {
    const record = recordOf([carrots(10, 12)])
    const found = told({ ...record, assignments: record.assignments.filter((one) => one.gardenId === 'A') })
    expect(found.title).toBe('There is nothing to compare yet')
  })

  it('says the same in German', () => {
    const { title, sentences } = told(recordOf([1.5, 1.52, 1.48].map((ratio) => carrots(10, 10 * ratio))), 'de-AT')
    expect(title).toMatch(/^Long Bank gab mehr als Lower Terrace/)
    expect(sentences[0]).toMatch(/^Long Bank gab etwa das 1,5-Fache \(1,5–1,6\) des Gewichts je Quadratmeter/)
  })

  it('tells nothing that only one pair alone would have told', () => {
    const ratios: Record<string, readonly number[]> = { A: [10, 10, 10], B: [11.5, 13, 12.2] }
    const grown = (methods: string) =>
      laidBeds(
        [...methods].map((method) => {
          const kg = ratios[method] ?? ratios.B ?? []
          return { garden: method, method, kg, minutes: [60, 60, 60], cents: [100, 100, 100] }
        }),
      )
    const weightOf = (record: TrialRecord) => {
      const seasonIds = record.seasons.map((one) => one.id)
      const found = findingsOf(record, { seasonIds, referenceId: 'A', questionLocked: false })
      return summaryOfRecord(record, seasonIds, { referenceId: 'A', found })
    }
    expect(weightOf(grown('AB')).measures[0]?.more).toHaveLength(1)
    const all = weightOf(grown('ABCDE'))
    expect(summaryTold(all, 'en', 'NZD').sentences[0]).toMatch(/^None of the four could be told apart from A/)
    const weight = all.measures[0]
    const [beside] = weight?.untold ?? []
    const wide = { ...all, measures: weight && beside ? [{ ...weight, unsayable: [{ ...beside, name: 'Moss' }] }] : [] }
    expect(summaryTold(wide, 'en', 'NZD').sentences[0]).toMatch(/^B, C, D and E could not be told apart/)
    expect([weight?.more.length, weight?.untold.length]).toEqual([0, 4])
  })
})

it('a number of times is written with two digits, and never as 1 where it is not', () => {
  expect([14.12, 1.24, 0.634, 1.004, 1, 32.6].map((one) => times(one, 'en'))).toEqual([
    ...['14', '1.2', '0.63', '1.00', '1.0', '33'],
  ])
})

it('the price of an hour is what was spent more over what was worked less, by hand', () => {
  // 2 and 2.2 hours saved on 100 m2, 20 and 22 dollars more spent: ten dollars an hour in both seasons.
  const record = worked(
    [1, 1],
    [
      { a: 4, b: 2 },
      { a: 4, b: 1.8 },
    ],
    [
      { a: 0, b: 20 },
      { a: 0, b: 22 },
    ],
  )
  const found = priceOfAnHour(record, ['s0', 's1'], pair)
  if (found.kind === 'refused') throw new Error(found.reason)
  expect(found.price).toBeCloseTo(1000, 6)
  expect(found.low).toBeLessThanOrEqual(1000 + 1e-6)
  expect(priceOfAnHour(record, ['s0'], pair)).toMatchObject({ kind: 'refused', reason: 'too few' })
})

it('the range of that price is widened for the pairs that the question names, else for all beside the reference', () => {
  const saved = [2, 1.8, 2.1].map((b) => ({ a: 4, b }))
  const record = worked(
    [1, 1, 1],
    saved,
    [20, 23, 18].map((b) => ({ a: 0, b })),
  )
  const asked = { seasonIds: ['s0', 's1', 's2'], referenceId: 'dug' }
  const found = findingsOf(record, { ...asked, questionLocked: false })
  const priceFor = (comparisons?: number) => {
    const others = comparisons === undefined ? {} : { others: [{ id: 'mulch', comparisons }] }
    return summaryOfRecord(record, asked.seasonIds, { ...asked, ...others, found }).prices[0]
  }
  const byHand = (level: number) => priceOfAnHour(record, asked.seasonIds, pair, { level })
  expect(priceFor(1)).toMatchObject(rangeOf(byHand(0.95)))
  expect(priceFor(4)).toMatchObject(rangeOf(byHand(0.9875)))
  expect(priceFor()).toEqual(priceFor(1))
})

const rangeOf = (price: ReturnType<typeof priceOfAnHour>) =>
  price.kind === 'refused' ? price : { price: price.price, low: price.low, high: price.high }

it('seasons like these until a quarter would be seen are more where they lie further apart', () => {
  const of = (ratios: readonly number[]) =>
    seasonsToSettle(
      findingsOf(recordOf(ratios.map((ratio) => carrots(10, 10 * ratio))), {
        ...{ seasonIds: ratios.map((_, i) => `s${i}`), referenceId: 'dug', questionLocked: false },
      }),
    )
  const [near, far] = [of([1, 1.05, 0.97]), of([0.8, 1.3, 0.9])]
  if (typeof near !== 'number' || typeof far !== 'number') throw new Error('seasons of both')
  expect(near).toBeLessThan(far)
  expect(near).toBeGreaterThanOrEqual(2)
})
