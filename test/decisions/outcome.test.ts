import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import type { TrialRecord } from '../../src/comparison/record/trial-record.ts'
import { unitOfFigure } from '../../src/comparison/totals/figures.ts'
import { newId } from '../../src/db/new-id.ts'
import {
  type Expectation,
  expectationOf,
  expectedMeasures,
  figuresExpected,
  seasonMeant,
  unitExpected,
} from '../../src/decisions/expectation.ts'
import { expectationHanded, figureTyped } from '../../src/decisions/figure-handed.ts'
import { besideExpected, happenedBy, type RecordAsked } from '../../src/decisions/happened.ts'
import { openPlace, type Place } from '../support/app.ts'
import { plain } from '../support/page-checks.ts'
import { allClosed, recordOf } from '../support/record.ts'

// 100 m2 of bed each: 10 kg of carrots off 4 m2 dug, 12 kg mulched; 20 h of weeding dug, 5 h mulched and 1 h of both.
const work = (bedIds: readonly string[], task: string, personMinutes: number) => ({
  ...{ seasonId: 's0', task, phase: 'established', bedIds, personMinutes },
})
const grown = recordOf([{ carrot: { m2: 4, a: 10, b: 12 } }, { carrot: { m2: 4, a: 10, b: 10 } }])
const record: TrialRecord = {
  ...grown,
  seasons: grown.seasons.map((one, i) => ({ ...one, closed: i === 0 })),
  labour: [work(['a'], 'weeding', 1200), work(['b'], 'weeding', 300), work(['b'], 'harvest', 600)],
  spreadings: [
    { seasonId: 's0', costMinor: 5000, usefulLifeSeasons: 1, bedIds: ['b'] },
    { seasonId: 's0', costMinor: 1000, usefulLifeSeasons: 1, bedIds: ['a'] },
  ],
  closings: allClosed(grown),
}
const asked: RecordAsked = { record, worthOf: () => [], spread: [] }
const expecting = (measure: Expectation['measure'], of: Partial<Expectation> = {}) => ({
  ...expectationHanded({ measure, value: 0 }),
  ...{ decidedOn: '2019-12-01' as const, methodId: measure === 'spread' ? null : 'mulch' },
  ...of,
})
const happened = (measure: Expectation['measure'], of: Partial<Expectation> = {}, more: Partial<RecordAsked> = {}) => {
  const found = happenedBy({ ...asked, ...more }, expecting(measure, of))
  return found.kind === 'happened' ? found.value : found.kind === 'cannot' ? found.why : found.kind
}
const beside = { besideMethodId: 'dug' }

describe('what the record says of a figure that was expected', () => {
  it('is Compare’s figure of the method, and the difference of two, by hand', () => {
    // 12 kg on 100 m2; 5 h and 20 h on 100 m2; (5 + 10) h on 12 kg; 50.00 on 100 m2 and on 12 kg.
    expect(happened('marketablePerBed')).toBeCloseTo(0.12, 12)
    expect(happened('hoursPerBed')).toBeCloseTo(0.05, 12)
    expect(happened('hoursPerBed', beside)).toBeCloseTo(0.05 - 0.2, 12)
    expect(happened('hoursPerKg')).toBeCloseTo(15 / 12, 12)
    expect(happened('costPerBed')).toBeCloseTo(50, 12)
    expect(happened('costPerBed', beside)).toBeCloseTo(40, 12)
    expect(happened('costPerKg')).toBeCloseTo(5000 / 12, 10)
    expect(happened('matchedRatio', beside)).toBeCloseTo(1.2, 12)
    expect(happenedBy(asked, expecting('hoursPerBed', beside))).toMatchObject({
      quotients: [
        { over: 300, under: 1_000_000 },
        { over: 1200, under: 1_000_000 },
      ],
    })
  })

  it('is the work on a bed, where it was written for that bed', () => {
    expect(happened('workOnGround', { methodId: null, bedId: 'b' })).toBe(5)
    expect(happened('workOnGround', { methodId: null, gardenId: 'A' })).toBe(20)
    // 2 h for both beds: 1 h of 6 is more than a tenth, 1 h of 21 is not, and is not counted.
    const both = { ...record, labour: [...record.labour, work(['a', 'b'], 'weeding', 120)] }
    expect(happened('workOnGround', { methodId: null, bedId: 'b' }, { record: both })).toBe('not by bed')
    expect(happened('workOnGround', { methodId: null, bedId: 'a' }, { record: both })).toBe(20)
    const open = { ...record, labour: [], closings: [] }
    expect(happened('workOnGround', { methodId: null, bedId: 'b' }, { record: open })).toBe('weeks open')
    // Every week closed and nothing written: none.
    expect(happened('workOnGround', { methodId: null, bedId: 'b' }, { record: { ...record, labour: [] } })).toBe(0)
  })

  it('is what was spread, of one product where it names one, and of one method', () => {
    const load = (bedIds: readonly string[], inputId: string, volumeMl: number | null) => ({
      ...{ seasonId: 's0', bedIds, inputId, volumeMl },
    })
    const spread = [load(['b'], 'compost', 1_500_000), load(['a'], 'hay', 700_000), load(['a'], 'manure', null)]
    expect(happened('spread', { inputId: 'compost' }, { spread })).toBe(1.5)
    expect(happened('spread', { methodId: 'mulch' }, { spread })).toBe(1.5)
    expect(happened('spread', { bedId: 'a', inputId: 'hay' }, { spread })).toBe(0.7)
    expect(happened('spread', {}, { spread })).toBe('no volume')
    expect(happened('spread', { methodId: 'mulch' }, { spread: [load(['a', 'b'], 'hay', 1)] })).toBe('not by bed')
    expect(happened('spread', {}, { spread: [] })).toBe(0)
  })

  it('is what an hour brought, where harvests and inputs have a price and weeks are closed', () => {
    const worth = {
      ...{ methodId: 'mulch', name: 'Mulch', areaCm2: 1_000_000, marketableG: 12_000, worthMinor: 6000, unpricedG: 0 },
      ...{ energyKcal: 0, unknownEnergyG: 0, inputsMinor: 3000, unpricedInputs: 0, minutes: 900, metTenthMinutes: 0 },
      ...{ withoutCodeMinutes: 0, openWeeks: 0 },
    }
    expect(happened('minorPerHour', {}, { worthOf: () => [worth] })).toBe(200)
    expect(happened('minorPerHour', {}, { worthOf: () => [{ ...worth, unpricedG: 12_000 }] })).toBe('no price')
    expect(happened('minorPerHour', {}, { worthOf: () => [{ ...worth, openWeeks: 3 }] })).toBe('weeks open')
    expect(happened('minorPerHour')).toBe('no ground')
  })

  it('is not said before the season is closed, and where the record cannot, it says why', () => {
    expect(happened('hoursPerBed', { aboutSeasonId: 's1' })).toBe('season open')
    expect(happenedBy(asked, { ...expecting('hoursPerBed'), decidedOn: '2030-01-01' })).toEqual({ kind: 'no season' })
    expect(happened('hoursPerBed', { methodId: 'rye' })).toBe('no ground')
    const openWeeks = { ...record, closings: allClosed(record, ['weights']) }
    expect(happenedBy({ ...asked, record: openWeeks }, expecting('hoursPerBed'))).toMatchObject({ limit: 'at least' })
    expect(happened('hoursPerBed', beside, { record: openWeeks })).toBe('weeks open')
    expect(happened('hoursPerKg', {}, { record: openWeeks })).toBe('weeks open')
    const standing = { ...record, plantings: record.plantings.map((one) => ({ ...one, cleared: false })) }
    expect(happened('marketablePerBed', {}, { record: standing })).toBe('still stands')
    expect(happened('matchedRatio', beside, { record: standing })).toBe('nothing alike')
    const unpriced = { ...record, spreadings: record.spreadings.map((one) => ({ ...one, costMinor: null })) }
    expect(happened('costPerBed', beside, { record: unpriced })).toBe('no price')
    const failed = record.plantings.map((one) => (one.bedId === 'b' ? { ...one, marketableG: 0 } : one))
    expect(happened('matchedRatio', beside, { record: { ...record, plantings: failed } })).toBe('one gave nothing')
    expect(happened('hoursPerKg', {}, { record: { ...record, plantings: failed } })).toBe('nothing weighed')
    const shared = { ...record, labour: [work(['a', 'b'], 'weeding', 600)] }
    expect(happened('hoursPerBed', beside, { record: shared })).toBe('only divided')
  })

  it('is of the season named, or of the first that began after the decision', () => {
    const of = (aboutSeasonId: string | null, decidedOn: '2019-12-01' | '2020-06-01' | '2021-06-01') =>
      seasonMeant(record.seasons, { aboutSeasonId, decidedOn })?.id
    expect([of(null, '2019-12-01'), of(null, '2020-06-01'), of(null, '2021-06-01'), of('s0', '2021-06-01')]).toEqual([
      ...['s0', 's1', undefined, 's0'],
    ])
  })

  it('lies within, under or over the range that was expected, in the digits that are kept', () => {
    const range = expectationHanded({ measure: 'hoursPerBed', value: -0.8, range: { low: -1.2, high: -0.4 } })
    const where = [-0.4, -0.3994, -1.2006, -0.9].map((value) => besideExpected(value, range))
    expect(where).toEqual(['within', 'over', 'under', 'within'])
    expect(besideExpected(1, expecting('hoursPerBed'))).toBe('no range')
  })

  it('has one unit a measure, Compare’s where it is Compare’s, and stands in the form as it was handed over', () => {
    for (const key of figuresExpected) expect(unitExpected[key]).toBe(unitOfFigure(key))
    expect(Object.keys(unitExpected)).toEqual([...expectedMeasures])
    const money = expectationHanded({ measure: 'costPerBed', value: 123.4567, methodId: 'm' })
    expect(money.expectedThousandths).toBe(123_457)
    expect(figureTyped(money, 'NZD')).toMatchObject({ expectedFigure: '1.23457', expectedLow: '' })
    expect(figureTyped(money, 'JPY').expectedFigure).toBe('123.4570')
    expect(expectationOf({ ...money, measure: 'of a later release' })).toBeNull()
  })
})

describe('on the page of decisions', () => {
  let place: Place
  let keeper: Awaited<ReturnType<Place['keeper']>>
  let base: string
  const idsOf = (text: string, name: string) =>
    [...(text.split(`name="${name}"`)[1]?.split('</select>')[0] ?? '').matchAll(/value="([^"]+)"[^>]*>([^<]+)/g)].map(
      ([, id, label]) => ({ id: id ?? '', label: plain(label ?? '') }),
    )
  beforeAll(async () => {
    place = await openPlace()
    keeper = await place.keeper()
    base = (await keeper.post('/demo/copy')).location ?? ''
  })
  afterAll(() => place.close())

  const form = async () => (await keeper.get(`${base}/decisions?form=decisions`)).text
  const given = async (more: Record<string, string>) => {
    const text = await form()
    const [season] = idsOf(text, 'seasonId')
    return {
      ...{ id: newId(), seasonId: season?.id ?? '', decidedOn: '2026-06-10', decision: 'Go on.', finding: 'It pays.' },
      ...{ expected: 'As this year.', ...more },
    }
  }
  const decide = async (more: Record<string, string>) => keeper.post(`${base}/decisions`, await given(more))

  it('stands beside what was expected as Compare says it of that season, in pages and in JSON', async () => {
    const text = await form()
    const season = idsOf(text, 'aboutSeasonId').find((one) => one.label === '2025/26')?.id ?? ''
    const methods = idsOf(text, 'methodId')
    const method = methods.find((one) => one.label.startsWith('Compost'))
    const about = { measure: 'hoursPerBed', aboutSeasonId: season, methodId: method?.id ?? '' }
    const range = { expectedFigure: '1.5', expectedLow: '1', expectedHigh: '2' }
    expect((await decide({ ...about, ...range, decision: 'Compost on.' })).status).toBe(303)
    const compared = JSON.parse((await keeper.get(`${base}/compare.json?season=${season}`)).text)
    const own = compared.methods.find((one: { methodId: string }) => one.methodId === method?.id)
    const figure = own.figures.find((one: { key: string }) => one.key === 'hoursPerBed')
    const log = JSON.parse((await keeper.get(`${base}/decisions.json`)).text)
    const kept = log.decisions.find((one: { decision: string }) => one.decision === 'Compost on.')
    expect(kept.figure).toMatchObject({
      ...{ measure: 'hoursPerBed', unit: 'h/m2', expected: 1.5, low: 1, high: 2 },
      happened: { kind: 'happened', value: figure.value },
    })
    expect(kept.figure.happened.quotients).toEqual([{ over: figure.numerator, under: figure.denominator }])
    const page = plain((await keeper.get(`${base}/decisions`)).text)
    expect(page).toContain('in 2025/26: 1.50 h/m² (1.00 to 2.00 h/m²).')
    expect(page).toContain(`By the record ${figure.value.toFixed(2)} h/m²`)
  })

  it('is asked for what belongs to its measure, and refused what cannot be', async () => {
    const method = idsOf(await form(), 'methodId')[0]?.id ?? ''
    const wrong = async (more: Record<string, string>) => {
      const answer = await decide(more)
      expect(answer.status).toBe(422)
      return [...answer.text.matchAll(/id="f-(\w+)-d-error"/g)].map((one) => one[1])
    }
    expect(await wrong({ measure: 'hoursPerBed', expectedFigure: '1' })).toEqual(['methodId'])
    expect(await wrong({ measure: 'hoursPerBed', methodId: method })).toEqual(['expectedFigure'])
    expect(await wrong({ expectedFigure: '1' })).toEqual(['measure'])
    expect(await wrong({ measure: 'workOnGround', expectedFigure: '1' })).toEqual(['ground'])
    const figure = { measure: 'hoursPerBed', methodId: method, expectedFigure: '1' }
    expect(await wrong({ ...figure, expectedLow: '0.5' })).toEqual(['expectedHigh'])
    expect(await wrong({ ...figure, expectedLow: '1.1', expectedHigh: '2' })).toEqual(['expectedLow'])
    expect(await wrong({ ...figure, besideMethodId: method })).toEqual(['besideMethodId'])
    expect(await wrong({ ...figure, methodId: newId() })).toEqual(['methodId'])
    expect(await wrong({ ...figure, expectedFigure: '12e9' })).toEqual(['expectedFigure'])
    expect(await wrong({ measure: 'workOnGround', expectedFigure: '1', ground: `bed:${newId()}` })).toEqual(['ground'])
  })

  it('is corrected with its figure, and its history and its export keep it', async () => {
    const method = idsOf(await form(), 'methodId')[0]?.id ?? ''
    const figure = { measure: 'costPerKg', methodId: method, expectedFigure: '2.5' }
    const fields = await given({ ...figure, decision: 'Cheaper compost.' })
    expect((await keeper.post(`${base}/decisions`, fields)).status).toBe(303)
    const address = `${base}/correct/decisions/${fields.id}`
    const page = (await keeper.get(address)).text
    expect(page).toMatch(/name="expectedFigure"[^>]*value="2.5"/)
    const { id: _, ...same } = fields
    const corrected = { ...same, version: '1', expectedFigure: '-1', happened: '', lookAgainOn: '' }
    expect((await keeper.post(address, corrected)).status).toBe(303)
    const log = JSON.parse((await keeper.get(`${base}/decisions.json`)).text)
    const kept = log.decisions.find((one: { id: string }) => one.id === fields.id)
    // Money is kept in thousandths of the minor unit: -1.00 is -100.
    expect(kept.figure).toMatchObject({ expected: -100, unit: 'minor/kg' })
    const history = plain((await keeper.get(`${base}/history/decisions/${fields.id}`)).text)
    expect(history).toContain('The figure nothing 250')
  })
})
