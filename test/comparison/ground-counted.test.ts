import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { groundBeside } from '../../src/comparison/record/ground-counted.ts'
import { newId } from '../../src/db/new-id.ts'
import type { IsoDate } from '../../src/quantities/dates.ts'
import { openPlace, type Place } from '../support/app.ts'
import { aDay } from '../support/calendar.ts'
import { plain } from '../support/page-checks.ts'
import { choicesIn, setUpTrial, type Trial } from '../support/trial.ts'

const season = { startsOn: aDay('2026-01-01'), endsOn: aDay('2026-12-31') }
const planted = (from: IsoDate, until: IsoDate | null, areaCm2: number, interplanted = 0) => ({
  ...{ from, until, areaCm2, interplanted },
})

describe('ground where crops overlap on purpose counts once a day', () => {
  const counted = (inBed: ReturnType<typeof planted>[], of = season) =>
    inBed.map((own) => groundBeside({ own, from: own.from, season: of, inBed }))

  it('crops on the same ground over the same days have it by their areas', () => {
    const days = ['2026-04-01', '2026-07-01'] as const
    expect(counted([planted(...days, 40_000), planted(...days, 40_000, 1)])).toEqual([20_000, 20_000])
    expect(counted([planted(...days, 40_000), planted(...days, 10_000, 1)])).toEqual([32_000, 8000])
    // What is larger than the ground it was put into has the rest alone: 3 m2 between 2 m2 share 2 m2, and 1 m2 is its own.
    expect(counted([planted(...days, 20_000), planted(...days, 30_000, 1)])).toEqual([10_000, 20_000])
    const three = [planted(...days, 20_000), planted(...days, 20_000), planted(...days, 20_000, 1)]
    expect(counted(three).reduce((sum, area) => sum + area, 0)).toBeCloseTo(40_000, -1)
  })

  it('a relay has half on the days on which both stand, and the whole on its own', () => {
    // The first stands 100 days, the second is sown 20 days before it goes and stands 80.
    const relay = [planted('2026-03-01', '2026-06-09', 10_000), planted('2026-05-20', '2026-08-08', 10_000, 1)]
    // 80 days whole and 20 half: 9 m2 of 10; 60 whole and 20 half: 8.75.
    expect(counted(relay)).toEqual([9000, 8750])
  })

  it('nothing that comes after the season moves it', () => {
    const first = planted('2026-09-01', null, 10_000)
    expect(counted([first, planted('2027-01-10', null, 10_000, 1)])[0]).toBe(10_000)
    const both = [first, planted('2026-12-02', null, 10_000, 1)]
    const cleared = [{ ...first, until: aDay('2027-02-01') }, planted('2026-12-02', '2027-03-01', 10_000, 1)]
    expect(counted(cleared)).toEqual(counted(both))
  })

  it('what was put into nothing counts whole, and so does what it did not stand in', () => {
    expect(counted([planted('2026-05-01', null, 9000, 1), planted('2026-06-01', null, 8000)])).toEqual([9000, 8000])
  })
})

describe('a relay, entered through the pages', () => {
  let place: Place
  let trial: Trial
  beforeAll(async () => {
    place = await openPlace()
    trial = await setUpTrial(place)
  })
  afterAll(() => place.close())
  const post = (path: string, fields: Record<string, unknown>) =>
    trial.keeper.post(`${trial.base}/${path}`, { id: newId(), ...fields })

  it('is sown into a full bed, shares its ground by days, and takes the room when the first has gone', async () => {
    const at = `seasons/${trial.season}`
    const choices = choicesIn((await trial.keeper.get(`${trial.base}/${at}`)).text)
    const { lower = '' } = trial.gardens
    const beds = { [lower]: choices(`beds[${lower}]`)['Bed 2'] ?? '' }
    const plant = (crop: string, more: Record<string, unknown>) =>
      post(`${at}/plantings`, {
        ...{
          cropId: choices('cropId')[crop],
          cultivar: 'Wren',
          areaCm2: '10',
          how: 'direct',
          purpose: 'harvest',
          beds,
        },
        ...more,
      })
    const kale = newId()
    expect((await plant('kale', { id: kale, sownOn: '2025-09-01' })).status).toBe(303)
    const without = await plant('beetroot', { sownOn: '2025-11-20' })
    expect([without.status, plain(without.text)]).toEqual([
      422,
      expect.stringContaining('more than the bed still holds'),
    ])
    expect((await plant('beetroot', { sownOn: '2025-11-20', interplanted: 'yes' })).status).toBe(303)
    // 1 September to 10 December are 100 days, the last 20 of them shared.
    const week = choicesIn((await trial.keeper.get(`${trial.base}/weeks/2025-W50/ledger`)).text)('plantingId')
    const id = Object.entries(week).find(([label]) => label.includes('kale'))?.[1]
    expect((await post(`${at}/clearings`, { plantingId: id, clearedOn: '2025-12-10' })).status).toBe(303)
    const rows = `${trial.base}/compare/rows?season=${trial.season}&garden=${lower}`
    const said = plain((await trial.keeper.get(rows)).text)
    expect(said).toContain('9.0 m² of 10.0 m²: crops overlap here, and each day’s ground counts once')
    // From that day on the beetroot has the bed: nothing more goes in, until it is cleared too.
    const third = await plant('spinach', { areaCm2: '1', sownOn: '2025-12-10' })
    expect([third.status, plain(third.text)]).toEqual([422, expect.stringContaining('more than the bed still holds')])
  })
})
