import { eq } from 'drizzle-orm'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { groups } from '../../src/accounts/accounts.table.ts'
import { constraintOf } from '../../src/db/constraint.ts'
import { newId } from '../../src/db/new-id.ts'
import { limitsOver, limitsPassed } from '../../src/decisions/dressing-limits.ts'
import type { IsoDate } from '../../src/quantities/dates.ts'
import { ledgerOf } from '../../src/soil/ledger.ts'
import { spreadingLimits } from '../../src/soil/limits.table.ts'
import { limitOn, limitsHeld, overLimits, type SpreadingLimit } from '../../src/soil/limits.ts'
import { soilTests } from '../../src/soil/soil.table.ts'
import { catalogue } from '../../src/words/catalogue.ts'
import { rowsIn, unpacked } from '../exchange/unpacked.ts'
import { openPlace, type Place } from '../support/app.ts'
import { plain, rowOf } from '../support/page-checks.ts'
import { choicesIn, setUpTrial, type Trial } from '../support/trial.ts'

const words = catalogue.limits
const limit = (given: Partial<SpreadingLimit> = {}): SpreadingLimit => ({
  ...{ source: 'manure', nutrient: 'nitrogen', mostMgPerM2: 12_000, from: '2026-01-01', rule: 'Byelaw 4' },
  ...given,
})

/** 225 g of nitrogen and 60 g of phosphorus on the one m2 of a garden. */
const spread = (given: { seasonId: string; appliedOn: IsoDate; kind?: string }) => ({
  ...{ gardenId: 'a', name: 'Something', kind: 'compost', rawManure: 0 },
  carriedMg: { nitrogen: 225_000, phosphorus: 60_000, potassium: 150_000 },
  ...given,
})
const rowsOf = (spreadings: ReturnType<typeof spread>[]) => ({
  ...{ gardens: [{ id: 'a' }], seasons: [{ id: '1' }, { id: '2' }], picked: [], spreadings },
  ground: ['1', '2'].map((seasonId) => ({ gardenId: 'a', seasonId, areaCm2: 10_000 })),
})
const over = (spreadings: ReturnType<typeof spread>[], limits: readonly SpreadingLimit[]) => {
  const rows = rowsOf(spreadings)
  return overLimits(rows, ledgerOf(rows), limits).map((one) => [one.seasonId, one.limit.source, one.kgPerHa])
}

describe('which limit holds', () => {
  it('of manure the directive’s until the group writes its own, which holds from its day', () => {
    const manure = { source: 'manure', nutrient: 'nitrogen' } as const
    expect(limitOn(limitsHeld([]), manure, '2020-01-01')?.mostMgPerM2).toBe(17_000)
    const own = limitsHeld([limit(), limit({ from: '2027-01-01', mostMgPerM2: null, rule: 'lifted' })])
    const days: IsoDate[] = ['2025-12-31', '2026-01-01', '2026-12-31', '2027-01-01']
    expect(days.map((day) => limitOn(own, manure, day))).toEqual([null, limit(), limit(), null])
    expect(limitOn(own, { source: 'compost', nutrient: 'nitrogen' }, '2026-06-01')).toBeNull()
  })

  it('what is typed for a look stands for all days, and of its own kind alone', () => {
    const typed = limit({ from: null, mostMgPerM2: 5_000, rule: null })
    const held = limitsHeld([limit(), limit({ source: 'all' })], [typed])
    expect(limitOn(held, typed, '1999-01-01')).toEqual(typed)
    expect(limitOn(held, limit({ source: 'all' }), '2026-06-01')?.rule).toBe('Byelaw 4')
  })

  it('a limit binds its own kind of source by the day of spreading, 2250 kg a hectare against 120', () => {
    const spreadings = [
      spread({ seasonId: '1', appliedOn: '2025-12-31', kind: 'manure' }),
      spread({ seasonId: '2', appliedOn: '2026-03-01', kind: 'manure' }),
      spread({ seasonId: '2', appliedOn: '2026-03-02' }),
    ]
    expect(over(spreadings, [limit()])).toEqual([['2', 'manure', 2_250]])
    expect(over(spreadings, [limit({ mostMgPerM2: 225_000 })])).toEqual([])
    expect(over(spreadings, [limit({ source: 'compost' })])).toEqual([['2', 'compost', 2_250]])
    expect(over(spreadings, [limit({ source: 'all', mostMgPerM2: 300_000 })])).toEqual([['2', 'all', 4_500]])
    expect(over(spreadings, [limit({ mostMgPerM2: null })])).toEqual([])
  })

  it('of a plan those of the day it goes on, and what is not known passes none', () => {
    const held = limitsOver('manure', [limit(), limit({ source: 'all', nutrient: 'phosphorus' })], '2026-02-01')
    expect(limitsPassed({ nitrogen: 12.01, phosphorus: null }, held).map((one) => one.limit.source)).toEqual(['manure'])
    expect(limitsPassed({ nitrogen: 12, phosphorus: 12.01 }, held).map((one) => one.limit.source)).toEqual(['all'])
    expect(limitsOver('manure', [limit()], '2025-12-31')).toEqual([])
  })
})

describe('on the pages', () => {
  let place: Place
  let trial: Trial
  beforeAll(async () => {
    place = await openPlace()
    trial = await setUpTrial(place)
  })
  afterAll(() => place.close())

  const given = (fields: Record<string, unknown> = {}) => ({
    ...{ id: newId(), source: 'compost', nutrient: 'nitrogen', mostMgPerM2: '25 g/m2', rule: 'Byelaw 4' },
    fromDay: '2025-08-01',
    ...fields,
  })
  const write = (fields: Record<string, unknown> = {}) => trial.keeper.post(`${trial.base}/soil/limits`, given(fields))
  const page = async (path: string) => plain((await trial.keeper.get(`${trial.base}/${path}`)).text)

  it('a keeper writes one down once: ledger and dressing are held against it, an address looks past it', async () => {
    const { keeper, base, gardens } = trial
    expect(await page('soil/limits')).toContain('Holds today: 170 kg of nitrogen')
    const bought = { name: 'Green', kind: 'compost', unit: 'm3', quantityThousandths: '1', deliveredOn: '2025-09-01' }
    const more = { id: newId(), usefulLifeSeasons: '1', ownMade: 'bought', ...bought }
    expect((await keeper.post(`${base}/inputs/deliveries`, more)).status).toBe(303)
    const deliveryId = Object.values(choicesIn((await keeper.get(`${base}/inputs`)).text)('deliveryId'))[0] ?? ''
    const on = { appliedOn: '2025-09-05', seasonId: '', phase: '', place: `garden:${gardens.bank}` }
    const laid = { id: newId(), deliveryId, quantityThousandths: '1', ...on }
    expect((await keeper.post(`${base}/inputs/spreadings`, laid)).status).toBe(303)
    expect(await page('soil/balance')).not.toContain('over the limit')

    expect((await write()).status).toBe(303)
    const { text } = await keeper.get(`${base}/soil/limits`)
    expect(rowOf(text, 'Compost').slice(1, 6)).toEqual(['nitrogen', '250', '25.00', 'Byelaw 4', '1 August 2025'])
    const stands = { garden: 'Long Bank', season: '2025/26', source: 'compost', nutrient: 'nitrogen', limit: '250' }
    // By the published make-up 1 m3 is 593 kg, half of it dry with 1.53 % N: 4.536 kg on 30 m2 are 1512 kg a hectare.
    expect(await page('soil/balance')).toContain(catalogue.ledger.over({ ...stands, kg: '1 512', rule: 'Byelaw 4' }))
    expect(await page('decide/compost')).toContain('250 kg of nitrogen a hectare and year from compost (Byelaw 4)')
    expect(await page('decide/compost/layer')).toContain('250 kg of nitrogen a hectare and year from compost (Byelaw')
    expect(await page('soil/balance?compost-nitrogen=2000')).not.toContain('over the limit')
    expect(await page('soil/balance?compost-nitrogen=')).not.toContain('over the limit')
    expect(await page('soil/balance?compost-nitrogen=200')).toContain(`over the limit of 200 (${words.typed})`)
  })

  it('one that holds from the same day is corrected and not doubled; what stands reads back as itself', async () => {
    const again = await write({ mostMgPerM2: '300' })
    expect([again.status, plain(again.text)]).toEqual([422, expect.stringContaining(words.taken)])
    const { text } = await trial.keeper.get(`${trial.base}/soil/limits`)
    const address = /href="([^"]*correct\/spreading-limits\/[^"]*)"/.exec(text)?.[1] ?? ''
    const form = (await trial.keeper.get(address)).text
    expect(/name="mostMgPerM2"[^>]*value="([^"]*)"/.exec(form)?.[1]).toBe('250 kg/ha')
    const { id: _id, ...rest } = given({ mostMgPerM2: '', rule: 'No rule any more' })
    expect((await trial.keeper.post(address, { ...rest, version: '1' })).status).toBe(303)
    expect(await page('soil/limits')).toContain(words.noLimit)
    expect(await page('soil/balance')).not.toContain('over the limit')
    expect(await page('history?table=spreading_limits')).toContain('Byelaw 4 → No rule any more')
  })

  it('it goes out with the export', async () => {
    const files = await unpacked(await trial.keeper.download(`${trial.base}/exchange/export.zip`))
    const file = [...files].find(([path]) => path.endsWith('spreading_limits.csv'))?.[1]
    expect(rowsIn(file).map(({ kind_of_source, rule, from_day }) => [kind_of_source, rule, from_day])).toEqual([
      ['compost', 'No rule any more', '2025-08-01'],
    ])
  })

  it.each([
    [{ mostMgPerM2: '-1' }, catalogue.fields.notPerArea],
    [{ mostMgPerM2: '1e9' }, catalogue.fields.notPerArea],
    [{ mostMgPerM2: '10 001' }, catalogue.fields.notPerArea],
    [{ mostMgPerM2: 'NaN' }, catalogue.fields.notPerArea],
    [{ mostMgPerM2: '17 kg' }, catalogue.fields.notPerArea],
    [{ rule: ' ' }, catalogue.fields.missing],
    [{ source: 'sludge' }, catalogue.fields.notChosen],
    [{ nutrient: 'potassium' }, catalogue.fields.notChosen],
    [{ fromDay: '2026-02-30' }, catalogue.fields.noSuchDay],
  ])('refuses %j in words', async (fields, sentence) => {
    const answer = await write(fields)
    expect([answer.status, plain(answer.text)]).toEqual([422, expect.stringContaining(sentence)])
  })

  it('the database refuses what no form lets through: of limits, and of a laboratory’s error', async () => {
    const { drizzle } = place.database
    const slug = trial.keeper.slug
    const [group] = await drizzle.select().from(groups).where(eq(groups.slug, slug))
    const kept = { groupId: group?.id ?? '', id: newId(), rule: 'Byelaw 9', fromDay: '2024-01-01' as const }
    const limits = (given: object) =>
      drizzle.insert(spreadingLimits).values({ ...kept, source: 'mulch', nutrient: 'nitrogen', ...given })
    const impossible = [
      { mostMgPerM2: -1 },
      { mostMgPerM2: 1_000_001 },
      { source: 'sludge' },
      { nutrient: 'potassium' },
    ]
    for (const given of impossible) {
      const constraint = await limits(given).then(
        () => 'none',
        (error: unknown) => constraintOf(error),
      )
      expect([given, constraint]).toEqual([given, expect.stringMatching(/^spreading_limits_\w+_is_(known|possible)$/)])
    }
    const test = { ...given(), analyte: 'P', laboratory: 'Harbour', sampledOn: '2025-08-05', value: '22', unit: 'mg/L' }
    const sample = { ...test, place: `garden:${trial.gardens.bank}`, extractant: '', depthMm: '', lowUnder: '' }
    expect((await trial.keeper.post(`${trial.base}/soil`, { ...sample, highFrom: '' })).status).toBe(303)
    const errors = [
      { standardError: '0', standardErrorOf: 'unit' },
      { standardError: '101', standardErrorOf: 'percent' },
      { standardError: '5', standardErrorOf: 'parts' },
      { standardError: '5', standardErrorOf: null },
      { standardError: null, standardErrorOf: 'unit' },
    ]
    for (const error of errors) {
      const constraint = await drizzle
        .update(soilTests)
        .set(error)
        .where(eq(soilTests.groupId, kept.groupId))
        .then(
          () => 'none',
          (wrong: unknown) => constraintOf(wrong),
        )
      expect([error, constraint]).toEqual([error, 'soil_tests_error_is_possible'])
    }
  })
})
