import { describe, expect, it } from 'vitest'
import { closingRuled } from '../../src/diary/closing-rule.ts'
import { type HoursTyped, hoursRuled } from '../../src/diary/hours-rule.ts'
import { closedKey, type Known, labelKey, sealedKey, weighedKey } from '../../src/diary/known.ts'
import { lossRuled } from '../../src/diary/loss-rule.ts'
import { type WeighingTyped, weighingRuled } from '../../src/diary/weighing-rule.ts'
import { always, areasOf } from '../../src/gardens/areas-held.ts'
import type { IsoWeek } from '../../src/quantities/iso-week.ts'
import { aDay } from '../support/calendar.ts'

const week: IsoWeek = '2026-W05'
const carrot = {
  ...{ id: 'carrot', seasonId: 's', bedId: 'bed', crop: 'carrot', areaCm2: 40_000, plants: null },
  ...{
    sownOn: aDay('2025-10-01'),
    plantedOn: null,
    clearedOn: aDay('2026-03-01'),
    askAboveGPerM2: 10_000,
    matchedSetId: null,
  },
  ...{ weighedAs: null, standsOverSeasons: 0, countsWhenPicked: 0 },
}
const known: Known = {
  today: '2026-02-01',
  gardens: new Set(['lower', 'bank']),
  names: new Map([
    ['lower', 'Lower'],
    ['bank', 'Bank'],
  ]),
  gardenOfBed: new Map([
    ['bed', 'lower'],
    ['other', 'bank'],
    ['still', 'bank'],
  ]),
  areasOfBed: new Map([
    ['bed', always(200_000)],
    ['other', areasOf({ from: null, areaCm2: 100_000 }, [{ from: '2025-08-01', areaCm2: 0 }])],
  ]),
  ground: [
    { id: 'bed', gardenId: 'lower', areaCm2: 200_000 },
    { id: 'other', gardenId: 'bank', areaCm2: 100_000 },
  ],
  seasons: [{ id: 's', startsOn: '2025-08-01', endsOn: '2026-05-31', closed: false }],
  assignments: [{ seasonId: 's', gardenId: 'lower', bedId: null, methodId: 'dug', phase: 'established' }],
  plantings: new Map([
    ['carrot', carrot],
    ['bean', { ...carrot, id: 'bean', crop: 'bean', bedId: 'other' }],
    ['old', { ...carrot, id: 'old', seasonId: 'before' }],
  ]),
  containers: new Map([['blue', 1200]]),
  loads: new Set(['load']),
  closed: new Set(),
  labels: new Map(),
  sealed: new Map(),
  weighed: new Map(),
  picked: new Set(),
  gone: new Map(),
}
const weighing: WeighingTyped = {
  ...{ id: 'one', isoWeek: week, from: ['carrot'], shareRule: null, shares: new Map(), harvestedOn: '2026-01-28' },
  ...{ marketable: 5000, unmarketable: null, why: null, containerId: null, pieces: null, source: 'field' },
  surely: false,
}
const hours: HoursTyped = {
  ...{ id: 'one', isoWeek: week, place: 'bed:bed', shareRule: null, shares: new Map(), task: 'weeding' },
  ...{ time: { people: 1, personMinutes: 60 }, people: null, workedOn: null, seasonId: null, phase: null },
  ...{ who: null, effort: null, deliveryId: null, source: 'field', surely: false },
}
const loss = {
  ...{ id: 'one', isoWeek: week, plantingId: 'carrot', lostOn: aDay('2026-01-28'), percent: 100, cause: 'pest' },
  ...{ outside: false, outsideBefore: false, alsoNextDoor: null, note: null, surely: false },
} as const
const code = (answer: { kind: string }) =>
  answer.kind === 'refused'
    ? `${(answer as unknown as { field: string }).field} ${(answer as unknown as { code: string }).code}`
    : 'taken'
const weighed = (typed: Partial<WeighingTyped>, more: Partial<Known> = {}) =>
  weighingRuled({ ...known, ...more }, { ...weighing, ...typed })
const worked = (typed: Partial<HoursTyped>, more: Partial<Known> = {}) =>
  hoursRuled({ ...known, ...more }, { ...hours, ...typed })

describe('hours on ground in several phases', () => {
  const all: HoursTyped = {
    ...hours,
    place: ['lower', 'bank'],
    shareRule: 'area',
    time: { people: 2, personMinutes: 100 },
  }
  const laid = (bank: string | null) => [
    ...known.assignments,
    ...(bank ? [{ seasonId: 's', gardenId: 'bank', bedId: 'other', methodId: 'mulch', phase: bank }] : []),
  ]
  const phases = (bank: string | null) => ({ ...known, assignments: laid(bank) })
  /** A second bed in the lower garden, which is new. */
  const parted = {
    ...known,
    ground: [...known.ground, { id: 'new', gardenId: 'lower', areaCm2: 50_000 }],
    gardenOfBed: new Map([...known.gardenOfBed, ['new', 'lower'] as const]),
    assignments: [
      ...laid('established'),
      { seasonId: 's', gardenId: 'lower', bedId: 'new', methodId: 'mulch', phase: 'establishing' },
    ],
  }
  const row = (answer: ReturnType<typeof hoursRuled>) =>
    answer.kind === 'answer' ? answer.row : expect.fail(answer.code)

  it('are one entry without a phase of its own, over gardens and in one garden', () => {
    expect(row(hoursRuled(phases('establishing'), all)).labour).toMatchObject({ phase: null, personMinutes: 100 })
    expect(row(hoursRuled(phases('established'), all)).labour.phase).toBe('established')
    expect(row(hoursRuled(parted, { ...hours, place: 'garden:lower' })).labour).toMatchObject({
      ...{ phase: null, gardenId: 'lower', shareRule: null },
    })
    expect(row(hoursRuled(parted, { ...hours, place: 'garden:lower', phase: 'established' })).labour.phase).toBe(
      'established',
    )
    expect(row(hoursRuled(parted, { ...hours, place: 'bed:new' })).labour.phase).toBe('establishing')
  })

  it('ask where some of the gardens lie under no method', () => {
    expect(code(hoursRuled(phases(null), all))).toBe('phase phaseUnknown')
  })

  it('of a garden that is parted between methods have the phase of its beds, where they agree', () => {
    const inBank: HoursTyped = { ...hours, place: 'garden:bank' }
    expect(row(hoursRuled(phases('establishing'), inBank)).labour.phase).toBe('establishing')
  })

  it('on the beds of one method in a garden are over those beds; on its only bed they are on that bed', () => {
    const two = {
      ...parted,
      ground: [...parted.ground, { id: 'newer', gardenId: 'lower', areaCm2: 40_000 }],
      assignments: [
        ...parted.assignments,
        { seasonId: 's', gardenId: 'lower', bedId: 'newer', methodId: 'mulch', phase: 'establishing' },
      ],
    }
    const onMulch: HoursTyped = { ...hours, place: 'part:lower.mulch' }
    const several = row(hoursRuled(two, onMulch))
    expect(several.labour).toMatchObject({ gardenId: null, bedId: null, shareRule: 'area', phase: 'establishing' })
    expect(several.shares).toEqual([
      { gardenId: 'lower', bedId: 'new', share: null },
      { gardenId: 'lower', bedId: 'newer', share: null },
    ])
    const one = row(hoursRuled(parted, onMulch))
    expect(one.labour).toMatchObject({ gardenId: null, bedId: 'new', shareRule: null, phase: 'establishing' })
    expect(one.shares).toEqual([])
    expect(code(hoursRuled(parted, { ...hours, place: 'part:bank.dug' }))).toBe('place notChosen')
    expect(code(hoursRuled({ ...two, closed: new Set([closedKey('hours', 'lower', week)]) }, onMulch))).toBe(
      'place isClosed',
    )
  })
})

describe('a weighing', () => {
  it('follows the clearing of what counts dried, trimmed or out of store, and of nothing else', () => {
    const after = { isoWeek: '2026-W10', harvestedOn: '2026-03-05' } as const
    const crops = (weighedAs: string | null) => ({
      today: aDay('2026-03-06'),
      plantings: new Map([['carrot', { ...carrot, weighedAs }]]),
    })
    expect(code(weighed(after, crops(null)))).toBe('day afterCleared')
    expect(['trimmed', 'dried', 'from store'].map((state) => code(weighed(after, crops(state))))).toEqual([
      ...['taken', 'taken', 'taken'],
    ])
    expect(code(weighed({ ...after, harvestedOn: '2025-09-30' }, crops('dried')))).not.toBe('taken')
  })

  it.each<[string, Partial<WeighingTyped>, Partial<Known>]>([
    ['day notInWeek', { harvestedOn: '2026-02-02' }, {}],
    ['day ahead', { harvestedOn: '2026-01-30' }, { today: '2026-01-29' }],
    ['from notChosen', { from: ['nobody'] }, {}],
    ['from isClosed', {}, { closed: new Set([closedKey('weights', 'lower', week)]) }],
    ['from twoSeasons', { from: ['carrot', 'old'], shareRule: 'area' }, {}],
    ['from plantsMissing', { from: ['carrot', 'bean'], shareRule: 'plants' }, {}],
    ['from sharesMissing', { from: ['carrot', 'bean'], shareRule: 'given' }, {}],
    ['marketable nothingWeighed', { marketable: null }, {}],
    ['why whyMissing', { unmarketable: 100 }, {}],
    ['why whyOfNothing', { why: 'split' }, {}],
    ['container notChosen', { containerId: 'none' }, {}],
    ['marketable lessThanTare', { containerId: 'blue', marketable: 1000 }, {}],
    ['surely muchAsk', { marketable: 50_000 }, {}],
    ['taken', { marketable: 50_000, surely: true }, {}],
    ['surely goneAsk', {}, { gone: new Map([['carrot', '2026-01-20']]) }],
    ['taken', {}, { gone: new Map([['carrot', '2026-01-29']]) }],
    ['taken', { surely: true }, { gone: new Map([['carrot', '2026-01-20']]) }],
  ])('%s', (expected, typed, more) => {
    expect(code(weighed(typed, more))).toBe(expected)
  })

  it('keeps the crate and what the scale showed, and takes its empty weight off', () => {
    const answer = weighed({ containerId: 'blue' })
    expect(answer).toMatchObject({ row: { harvest: { marketableG: 3800, grossG: 5000, containerId: 'blue' } } })
    const bad = weighed({ containerId: 'blue', marketable: null, unmarketable: 5000, why: 'split' })
    expect(bad).toMatchObject({ row: { harvest: { marketableG: 0, unmarketableG: 3800, grossG: 5000 } } })
  })

  it('that stands alike under another id is asked about, under its own it is the same', () => {
    const key = weighedKey('carrot', { harvestedOn: '2026-01-28', marketableG: 5000, unmarketableG: 0 })
    expect(code(weighed({}, { weighed: new Map([[key, ['another']]]) }))).toBe('surely sameAsk')
    expect(code(weighed({}, { weighed: new Map([[key, ['one']]]) }))).toBe('taken')
  })

  it('under a sealed label is taken by the label alone, and no answer tells what lies under it', () => {
    const sealed = {
      sealed: new Map([[sealedKey('carrot', week), 'AB2']]),
      labels: new Map([[labelKey('AB2', week), { plantingId: 'carrot', sealed: true }]]),
    }
    expect(code(weighed({}, sealed))).toBe('from byItsLabel')
    expect(code(weighed({ from: ['carrot', 'bean'], shareRule: 'area' }, sealed))).toBe('from byItsLabel')
    expect(code(weighed({ from: { label: 'ab2' } }, sealed))).toBe('taken')
    expect(code(weighed({ from: { label: 'CD3' } }, sealed))).toBe('from noSuchLabel')
    const much = weighed({ from: { label: 'AB2' }, marketable: 50_000 }, sealed)
    expect(much).toEqual({ kind: 'refused', field: 'surely', code: 'muchAsk', about: { label: 'AB2' } })
    const gone = { ...sealed, gone: new Map([['carrot', '2026-01-20']]) } as const
    expect(code(weighed({ from: { label: 'AB2' } }, gone))).toBe('taken')
    const opened = { labels: new Map([[labelKey('AB2', week), { plantingId: 'carrot', sealed: false }]]) }
    expect(code(weighed({ from: { label: 'AB2' } }, opened))).toBe('from isClosed')
  })
})

describe('hours', () => {
  it.each<[string, Partial<HoursTyped>, Partial<Known>]>([
    ['place notChosen', { place: 'garden:none' }, {}],
    ['place notChosen', { place: 'planting:none' }, {}],
    ['place notChosen', { place: ['lower', 'none'], shareRule: 'area' }, {}],
    ['place sharesMissing', { place: ['lower', 'bank'], shareRule: 'given' }, {}],
    ['day notInWeek', { workedOn: '2026-02-02' }, {}],
    ['day weekAhead', {}, { today: '2026-01-20' }],
    ['season noSeason', {}, { seasons: [] }],
    ['place noBeds', { place: 'garden:bank' }, { gardenOfBed: new Map([['bed', 'lower']]) }],
    ['place noBeds', { place: 'garden:bank' }, { gardenOfBed: new Map([['other', 'bank']]) }],
    ['place noBeds', { place: ['lower', 'bank'], shareRule: 'area' }, { gardenOfBed: new Map([['bed', 'lower']]) }],
    ['place isClosed', {}, { closed: new Set([closedKey('hours', 'lower', week)]) }],
    ['load notChosen', { deliveryId: 'none' }, {}],
    ['phase phaseUnknown', { place: 'garden:bank' }, {}],
    ['taken', { place: 'garden:bank', phase: 'establishing' }, {}],
    ['people peopleTwice', { time: { people: 2, personMinutes: 120 }, people: 6 }, {}],
    ['surely longAsk', { time: { people: 1, personMinutes: 17 * 60 }, workedOn: '2026-01-28' }, {}],
    ['taken', { time: { people: 1, personMinutes: 17 * 60 } }, {}],
  ])('%s', (expected, typed, more) => {
    expect(code(worked(typed, more))).toBe(expected)
  })

  it('take their season from the day and their phase from the ground; people are counted once', () => {
    const answer = worked({ people: 3 })
    expect(answer).toMatchObject({ row: { labour: { seasonId: 's', phase: 'established', personMinutes: 180 } } })
    expect(worked({ time: { people: 3, personMinutes: 180 }, people: 3 })).toMatchObject({
      row: { labour: { personMinutes: 180, people: 3, bedId: 'bed', gardenId: null } },
    })
  })
})

describe('a loss and a closing', () => {
  it('an outside cause is named before the season closes, and what was lost wholly is asked about', () => {
    const closed = {
      ...known,
      seasons: [{ id: 's', startsOn: '2025-08-01', endsOn: '2026-05-31', closed: true }],
    } as const
    expect(code(lossRuled(closed, { ...loss, outside: true }))).toBe('outside outsideTooLate')
    expect(code(lossRuled(closed, { ...loss, outside: true, outsideBefore: true }))).toBe('taken')
    expect(code(lossRuled(closed, { ...loss, outsideBefore: true }))).toBe('outside outsideTooLate')
    const gone = { ...known, gone: new Map([['carrot', '2026-01-20']]) } as const
    expect([code(lossRuled(gone, loss)), code(lossRuled(gone, { ...loss, surely: true }))]).toEqual([
      'surely goneAsk',
      'taken',
    ])
  })

  it('a garden with labels is closed by a keeper, and a week to come by nobody', () => {
    const labels = new Map([[labelKey('AB2', week), { plantingId: 'carrot', sealed: true }]])
    const closing = { gardenId: 'lower', isoWeek: week, what: 'weights', byKeeper: false } as const
    expect(code(closingRuled({ ...known, labels }, closing))).toBe('place keepersOpen')
    expect(code(closingRuled({ ...known, labels }, { ...closing, byKeeper: true }))).toBe('taken')
    expect(code(closingRuled({ ...known, labels }, { ...closing, what: 'hours' }))).toBe('taken')
    expect(code(closingRuled({ ...known, today: '2026-01-20' }, closing))).toBe('place weekAhead')
  })
})
