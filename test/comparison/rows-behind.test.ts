import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { methodsTogether } from '../../src/comparison/findings/methods-together.ts'
import { stableMethods } from '../../src/comparison/findings/seasons-together.ts'
import { firstTable } from '../../src/comparison/matched/first-table.ts'
import { cropName } from '../../src/comparison/record/crop-name.ts'
import { seasonWeeks } from '../../src/comparison/record/near-weeks.ts'
import type { TrialRecord } from '../../src/comparison/record/trial-record.ts'
import { rowsBehind, rowsWanted, totalsOf } from '../../src/comparison/rows/rows-behind.ts'
import { figureLines } from '../../src/comparison/rows/rows-figures.ts'
import { mixBehind, steadyBehind, unitsBehind } from '../../src/comparison/rows/rows-matched.ts'
import { scopeOf } from '../../src/comparison/rows/rows-scope.ts'
import { cropMeasures } from '../../src/comparison/totals/crop-measures.ts'
import { labourByTask } from '../../src/comparison/totals/labour-by-task.ts'
import { lossesByCause } from '../../src/comparison/totals/losses-by-cause.ts'
import { plainMeasureRules } from '../../src/comparison/totals/measures.ts'
import { methodTotals, sumOfParts, sumOfSeasons } from '../../src/comparison/totals/method-totals.ts'
import { onlyIn, regrouped } from '../../src/comparison/totals/regrouped.ts'
import { always } from '../../src/gardens/areas-held.ts'
import { aDay } from '../support/calendar.ts'
import { got, recordOf } from '../support/record.ts'

/** Three seasons; a garden that is split between the methods, and one whose beds are unlike in area. */
const base: TrialRecord = (() => {
  const grown = { carrot: { m2: 4, a: 7, b: 11 }, leek: { m2: 3, a: 2, b: 0 } }
  const made = recordOf([grown, grown, grown])
  return {
    ...made,
    methods: made.methods.map((one) => (one.id === 'mulch' ? { ...one, establishingSeasons: 3 } : one)),
    gardens: [...made.gardens, { id: 'C', name: 'Half and Half', areas: always(1_234_567) }],
    beds: [
      ...made.beds,
      { id: 'a2', gardenId: 'A', areas: always(333_333) },
      { id: 'c1', gardenId: 'C', areas: always(200_001) },
      { id: 'c2', gardenId: 'C', areas: always(311_111) },
    ],
    assignments: [
      ...made.assignments,
      ...made.seasons.flatMap(({ id }, i) => [
        { seasonId: id, gardenId: 'C', bedId: 'c1', methodId: i === 1 ? 'mulch' : 'dug' },
        { seasonId: id, gardenId: 'C', bedId: 'c2', methodId: 'mulch' },
      ]),
    ],
  }
})()
const seasonIds = base.seasons.map((one) => one.id)
const bedIds = base.beds.map((one) => one.id)
const weeks = seasonIds.flatMap((id) => seasonWeeks(base, id))

const season = fc.constantFrom(...seasonIds)
const someBeds = fc.uniqueArray(fc.constantFrom(...bedIds), { minLength: 1 })
const phase = fc.constantFrom('establishing', 'established')
const planting = fc.constantFrom(...base.plantings)
const amount = fc.integer({ min: 0, max: 99_999 })
const task = fc.constantFrom('weeding', 'harvest', 'washing and packing', 'making compost')
const labour = fc.oneof(
  fc.record({ seasonId: season, task, phase, personMinutes: amount, bedIds: someBeds }),
  fc
    .record({ one: planting, task, phase, personMinutes: amount })
    .map(({ one, ...entry }) => ({ ...entry, seasonId: one.seasonId, bedIds: [one.bedId], plantingId: one.id })),
)
const costs = {
  ...{ phase, usefulLifeSeasons: fc.integer({ min: 1, max: 4 }) },
  ...{ costMinor: fc.option(amount), cashMinor: fc.option(amount) },
}
const spreading = fc.oneof(
  fc.record({ ...costs, seasonId: season, bedIds: someBeds }),
  fc
    .record({ ...costs, one: planting })
    .map(({ one, ...cost }) => ({ ...cost, seasonId: one.seasonId, bedIds: [one.bedId], plantingId: one.id })),
)
const loss = fc.record({
  ...{ plantingId: planting.map((one) => one.id), lostOn: fc.constant('2020-01-08'), outsideMethod: fc.boolean() },
  ...{ sharePermille: fc.integer({ min: 1, max: 1000 }), cause: fc.constantFrom('pest', 'weather') },
})
const closing = fc.record({
  ...{ gardenId: fc.constantFrom('A', 'B', 'C'), isoWeek: fc.constantFrom(...weeks) },
  what: fc.constantFrom('hours', 'weights'),
})
const entry = fc.record({ seasonId: season, bedIds: someBeds, paper: fc.boolean(), late: fc.boolean() })
const records = fc
  .record({
    ...{ labour: fc.array(labour, { maxLength: 12 }), spreadings: fc.array(spreading, { maxLength: 8 }) },
    losses: fc.array(loss, { maxLength: 8 }),
    closings: fc.uniqueArray(closing, { maxLength: 12, selector: (one) => JSON.stringify(one) }),
    entries: fc.array(entry, { maxLength: 8 }),
    standing: fc.uniqueArray(planting.map((one) => one.id)),
    purposes: fc.uniqueArray(planting.map((one) => one.id)),
  })
  .map(
    ({ standing, purposes, ...rows }): TrialRecord => ({
      ...{ ...base, ...rows },
      plantings: base.plantings.map((one) => ({
        ...{ ...one, unmarketableG: one.areaCm2 % 977, cleared: !standing.includes(one.id) },
        purpose: purposes.includes(one.id) ? 'seed' : 'harvest',
      })),
    }),
  )

describe('whatever is written down', () => {
  it('the parts of all rows add up to the totals of their method, in every key', () => {
    fc.assert(
      fc.property(records, (record) => {
        for (const methodId of ['dug', 'mulch']) {
          for (const id of seasonIds) {
            const totals = totalsOf(rowsBehind(record, [id], methodId))
            expect(totals).toEqual(methodTotals(record, id).get(methodId))
          }
          const all = sumOfSeasons(seasonIds.map((id) => methodTotals(record, id))).get(methodId)
          expect(totalsOf(rowsBehind(record, seasonIds, methodId))).toEqual(all)
        }
      }),
    )
  })

  it('and so do those of each garden and each bed, and of a method in the gardens that it lies in', () => {
    fc.assert(
      fc.property(records, (record) => {
        for (const by of ['garden', 'bed'] as const) {
          const groups = regrouped(record, by)
          const all = sumOfSeasons(seasonIds.map((id) => methodTotals(groups, id)))
          for (const { id } of groups.methods) expect(totalsOf(rowsBehind(groups, seasonIds, id))).toEqual(all.get(id))
        }
        const parts = ['A', 'B', 'C'].map((gardenId) =>
          totalsOf(rowsBehind(onlyIn(record, { gardenId }), seasonIds, 'mulch')),
        )
        const whole = totalsOf(rowsBehind(record, seasonIds, 'mulch'))
        const {
          unpriced: _,
          unpricedCash: __,
          entries: ___,
          entriesFromPaper: ____,
          entriesLate: _____,
          ...sum
        } = sumOfParts(parts)
        // A spreading or an entry that lies on two gardens counts once for the method and once for each of them.
        expect(whole).toMatchObject(sum)
      }),
      { numRuns: 40 },
    )
  })

  it('every figure of the first table is the quotient that its section says', () => {
    fc.assert(
      fc.property(records, season, (record, id) => {
        for (const own of firstTable(record, id).methods) {
          const rows = rowsBehind(record, [id], own.methodId)
          const asked = { seasonIds: [id], methodId: own.methodId, kept: {}, rules: plainMeasureRules, counted: false }
          const lines = Object.values(figureLines(record, rows, asked)).flat()
          for (const figure of own.figures) {
            expect(lines.find((line) => line.key === figure.key)).toMatchObject(figure)
          }
        }
      }),
      { numRuns: 40 },
    )
  })

  it('rows of one crop, task or cause make the figures of that crop, task or cause', () => {
    fc.assert(
      fc.property(records, fc.constantFrom('dug', 'mulch'), (record, methodId) => {
        const rows = rowsBehind(record, seasonIds, methodId)
        const figures = (kept: object) =>
          figureLines(record, rows, { seasonIds, methodId, kept, rules: plainMeasureRules, counted: false })
        for (const own of cropMeasures(record, seasonIds, methodId, plainMeasureRules)) {
          const { plantings, hours, costs } = figures({ crop: own.crop })
          expect(plantings[0]).toMatchObject({ numerator: own.grams, denominator: own.plantedAreaCm2 })
          expect(hours.map((line) => line.numerator)).toEqual(own.minutes === null ? [] : [own.minutes])
          expect(costs.map((line) => line.numerator)).toEqual(own.costMinor === null ? [] : [own.costMinor])
        }
        const bed = totalsOf(rows).bedAreaCm2
        const tasks = labourByTask(record, seasonIds).find((one) => one.methodId === methodId)?.byTask ?? {}
        for (const [name, { minutes }] of Object.entries(tasks)) {
          expect(figures({ task: name }).hours).toMatchObject([{ numerator: minutes, denominator: bed }])
        }
        for (const one of lossesByCause(record, seasonIds).find((own) => own.methodId === methodId)?.causes ?? []) {
          const [share, count] = figures({ cause: one.cause, outside: one.outsideMethod }).losses
          expect([share?.numerator, count?.numerator]).toEqual([one.areaPermille, one.count])
        }
      }),
      { numRuns: 60 },
    )
  })
})

it('work of establishing that is spread into a later season stands among its rows, said as of its own', () => {
  const labour = [
    { seasonId: 's0', task: 'preparing beds', phase: 'establishing', personMinutes: 600, bedIds: ['b'] },
    { seasonId: 's1', task: 'weeding', phase: 'established', personMinutes: 30, bedIds: ['b'] },
  ]
  const rows = rowsBehind({ ...base, labour }, ['s1'], 'mulch').hours
  // 600 minutes over the three seasons that the group states.
  expect(rows.map(({ entry, part }) => [entry.seasonId, part.minutesWithoutHarvest, part.groundSpread])).toEqual([
    ['s0', 0, 200],
    ['s1', 30, 0],
  ])
})

it('a method that failed entirely has all of its rows, and figures of zero', () => {
  const losses = base.plantings
    .filter((one) => one.bedId === 'b')
    .map((one) => ({ plantingId: one.id, lostOn: aDay('2020-01-08'), sharePermille: 1000, cause: 'weather' }))
  const plantings = base.plantings.map((one) => (one.bedId === 'b' ? { ...one, marketableG: 0 } : one))
  const record = { ...base, losses, plantings }
  const rows = rowsBehind(record, ['s0'], 'mulch')
  expect(rows.plantings.map(({ part }) => [part.marketableG, part.lostAreaPermille / part.plantedAreaCm2])).toEqual([
    [0, 1000],
    [0, 1000],
  ])
  const asked = { seasonIds: ['s0'], methodId: 'mulch', kept: {}, rules: plainMeasureRules, counted: false }
  const lines = figureLines(record, rows, asked)
  expect(lines.plantings.map((line) => line.value)).toEqual([0, 0, 0, 0])
  expect(lines.hours.find((line) => line.key === 'hoursPerKg')?.value).toBeNull()
  expect(lines.losses.find((line) => line.key === 'failedRow')).toMatchObject({ numerator: 2, denominator: 2 })
})

it('only what was asked for is kept, and of a crop only the work that was written for it', () => {
  const written = { seasonId: 's0', phase: 'established', bedIds: ['a'] }
  const labour = [
    { ...written, task: 'weeding', personMinutes: 60 },
    { ...written, task: 'weeding', personMinutes: 7, plantingId: '0 leek a' },
    { ...written, task: 'harvest', personMinutes: 5, plantingId: '0 carrot a' },
  ]
  const rows = rowsBehind({ ...base, labour }, ['s0'], 'dug')
  expect(rowsWanted(rows, { crop: 'leek' }).plantings.map((row) => cropName(row.planting))).toEqual(['leek, x'])
  expect(rowsWanted(rows, { crop: 'leek, x' }).hours.map((row) => row.entry.personMinutes)).toEqual([7])
  expect(rowsWanted(rows, { task: 'weeding' }).hours.map((row) => row.entry.personMinutes)).toEqual([60, 7])
  expect(rowsWanted(rows, { crop: 'no such crop' }).plantings).toEqual([])
})

describe('what is matched', () => {
  it('each crop brings its part, and they add up to the figure on the common mix', () => {
    const table = firstTable(base, 's0')
    for (const { methodId, kgPerM2 } of table.commonMix) {
      const found = mixBehind(base, ['s0'], methodId)
      expect(found?.kgPerM2).toBe(kgPerM2)
      expect(found?.parts.reduce((sum, one) => sum + one.share, 0)).toBeCloseTo(1, 12)
      expect(found?.parts.reduce((sum, one) => sum + one.part, 0)).toBeCloseTo(kgPerM2, 12)
    }
    expect(table.commonMix).toHaveLength(2)
  })

  it('places of replicated layouts make the figure of all methods in one analysis', () => {
    const twice = recordOf([{ carrot: { m2: 4, a: 7, b: 11 } }, { carrot: { m2: 4, a: 6, b: 9 } }])
    const more = ['a', 'b'].map((bed) => ({ bed, id: `${bed}2`, garden: `${bed.toUpperCase()}2` }))
    const record: TrialRecord = {
      ...twice,
      gardens: [
        ...twice.gardens,
        ...more.map(({ garden }) => ({ id: garden, name: garden, areas: always(2_000_000) })),
      ],
      beds: [...twice.beds, ...more.map(({ id, garden }) => ({ id, gardenId: garden, areas: always(1_000_000) }))],
      assignments: [
        ...twice.assignments,
        ...twice.seasons.flatMap(({ id }) =>
          more.map(({ bed, garden }) => ({
            ...{ seasonId: id, gardenId: garden, bedId: null, methodId: bed === 'a' ? 'dug' : 'mulch' },
          })),
        ),
      ],
      plantings: twice.plantings.flatMap((one) => [
        one,
        { ...one, id: `${one.id} 2`, bedId: `${one.bedId}2`, marketableG: Math.round(one.marketableG * 1.3) },
      ]),
    }
    const together = got(methodsTogether(record, ['s0', 's1'], ['dug', 'mulch']))
    for (const { methodId, kgPerM2, units } of together.methods) {
      const found = unitsBehind(record, ['s0', 's1'], methodId)
      expect(found?.units).toHaveLength(units)
      expect(found?.kgPerM2).toBeCloseTo(kgPerM2, 12)
    }
    expect(unitsBehind(base, ['s0'], 'no such method')).toBeNull()
  })

  it('season by season, the mean is that of how steady a method was', () => {
    const plantings = base.plantings.map((one, i) => ({ ...one, marketableG: one.marketableG + 310 * i }))
    const record = { ...base, plantings }
    const stable = got(stableMethods(record, seasonIds, ['dug', 'mulch']))
    for (const { methodId, mean } of stable.methods) {
      expect(steadyBehind(record, seasonIds, methodId)?.mean).toBeCloseTo(mean, 12)
    }
  })
})

it('whose rows they are: a method, or a garden or bed by itself, and nobody else’s', () => {
  expect(scopeOf(base, { method: 'dug' })).toMatchObject({ id: 'dug', name: 'Dug', place: null })
  expect(scopeOf(base, { method: 'dug', garden: 'C' })).toMatchObject({ id: 'dug', place: 'Half and Half' })
  expect(scopeOf(base, { garden: 'C' })).toMatchObject({ id: 'C', name: 'Half and Half' })
  expect(scopeOf(base, { bed: 'c1' })).toMatchObject({ id: 'c1', name: 'Half and Half, c1' })
  for (const none of [{}, { method: 'hay' }, { garden: 'D' }, { method: 'dug', bed: 'd' }, { method: '__proto__' }]) {
    expect(scopeOf(base, none)).toBeNull()
  }
})
