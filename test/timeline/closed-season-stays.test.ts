import fc from 'fast-check'
import { afterAll, beforeAll, expect, it } from 'vitest'
import { newId } from '../../src/db/new-id.ts'
import { addDays, type IsoDate } from '../../src/quantities/dates.ts'
import { weekOf } from '../../src/quantities/iso-week.ts'
import { weigh } from '../reports/reports.ts'
import { openPlace, type Place } from '../support/app.ts'
import { plain } from '../support/page-checks.ts'
import { choicesIn, plantingOf, setUpTrial, type Trial } from '../support/trial.ts'

let place: Place
let trial: Trial
beforeAll(async () => {
  place = await openPlace()
  trial = await setUpTrial(place)
  await plantMore()
})
afterAll(() => place.close())

const post = (path: string, fields: Record<string, unknown>) =>
  trial.keeper.post(`${trial.base}/${path}`, { id: newId(), ...fields })
/** What the methods gave in the closed season, and beside it what its harvest was worth by the prices of its crops. */
const closedFigures = async () => {
  const shown = ['compare.json', 'decide/value.json'].map((page) =>
    trial.keeper.get(`${trial.base}/${page}?season=${trial.season}`),
  )
  return (await Promise.all(shown)).map((one) => one.text).join('\n')
}

const next = newId()
/** Asparagus and leeks stand in both gardens, hay was spread, and a weight was taken in a crate. */
const [asparagus, leeks, hay, crate, late] = [newId(), newId(), newId(), newId(), newId()]

async function plantMore() {
  const choices = choicesIn((await trial.keeper.get(`${trial.base}/seasons/${trial.season}`)).text)
  const beds = Object.fromEntries(Object.values(trial.gardens).map((id) => [id, choices(`beds[${id}]`)['Bed 1'] ?? '']))
  for (const [id, crop, more] of [
    [asparagus, 'asparagus', { plantedOn: '2026-03-20', standsOverSeasons: 'yes', establishingSeasons: '1' }],
    [leeks, 'leek', { sownOn: '2026-04-01' }],
  ] as const) {
    const given = { id, cropId: choices('cropId')[crop], cultivar: 'Plover', areaCm2: '0.5', how: 'direct', beds }
    expect((await post(`seasons/${trial.season}/plantings`, { ...given, purpose: 'harvest', ...more })).status).toBe(
      303,
    )
  }
  const came = { name: 'Hay', kind: 'mulch', unit: 'bale', ownMade: 'bought', usefulLifeSeasons: '1', rawManure: 'no' }
  const load = {
    ...came,
    deliveredOn: '2026-02-02',
    quantityThousandths: '10',
    priceMinor: '40',
    deliveryPriceMinor: '',
  }
  expect((await post('inputs/deliveries', { ...load, id: hay })).status).toBe(303)
  const spread = {
    deliveryId: hay,
    place: `garden:${trial.gardens.bank}`,
    appliedOn: '2026-03-03',
    quantityThousandths: '4',
  }
  expect((await post('inputs/spreadings', spread)).status).toBe(303)
  await post('weeks/2026-W05/containers', { id: crate, name: 'Blue', tareG: '0.4' })
  const weighed = { plantingId: plantingOf(trial, 'potato', 'Long'), harvestedOn: '2026-01-29', marketable: '2.4' }
  expect((await post('weeks/2026-W05/harvests', { ...weighed, containerId: crate })).status).toBe(303)
}

const bank = () => `gardens/${trial.gardens.bank}/ground`
const bedNamed = async (name: string) => {
  const beds = choicesIn((await trial.keeper.get(`${trial.base}/${bank()}`)).text)('bedId')
  return Object.entries(beds).find(([label]) => label.startsWith(`${name},`))?.[1] ?? ''
}
const choicesOfNext = async () => choicesIn((await trial.keeper.get(`${trial.base}/seasons/${next}`)).text)

/** What may be done to ground and record after a season was closed, in the order of the days on which it is done. */
const later: Readonly<Record<string, () => Promise<{ readonly status: number }>>> = {
  'the garden becomes larger': () => post(`${bank()}/gross`, { areaCm2: '90', fromDay: '2026-06-01' }),
  'a bed is added': () => post(`${bank()}/added`, { name: 'Bed 3', areaCm2: '12', fromDay: '2026-06-02' }),
  'beds are added from the list of gardens': () =>
    post('gardens/beds', {
      gardenId: trial.gardens.bank,
      count: '2',
      areaCm2: '4',
      name: 'Strip',
      thereSince: '2026-06-03',
    }),
  'a bed becomes larger': async () =>
    post(`${bank()}/resized`, { bedId: await bedNamed('Bed 2'), areaCm2: '21', fromDay: '2026-06-04' }),
  'a bed is parted': async () =>
    post(`${bank()}/parted`, { bedId: await bedNamed('Bed 2'), name: 'Bed 2b', areaCm2: '5', fromDay: '2026-06-05' }),
  'two beds become one': async () =>
    post(`${bank()}/joined`, {
      bedId: await bedNamed('Bed 3'),
      otherId: await bedNamed('Bed 2b'),
      fromDay: '2026-06-06',
    }),
  'a bed is given up': async () =>
    post(`${bank()}/given-up`, { bedId: await bedNamed('Bed 2'), fromDay: '2026-06-07' }),
  'the next season begins': () =>
    post('seasons', { id: next, name: '2026/27', startsOn: '2026-08-01', endsOn: '2027-05-31' }),
  'a garden changes its method': async () => {
    const methods = (await choicesOfNext())('methodId')
    const laid = { methodId: methods['Dug every spring'], phase: 'establishing', yearOfMethod: '1', how: 'choice' }
    return post(`seasons/${next}/assignments`, { place: `garden:${trial.gardens.bank}`, ...laid })
  },
  'the other keeps its own': async () => {
    const laid = { phase: 'established', yearOfMethod: '4', how: 'choice' }
    const methodId = (await choicesOfNext())('methodId')['Compost mulch']
    return post(`seasons/${next}/assignments`, { place: `garden:${trial.gardens.lower}`, methodId, ...laid })
  },
  'a new method is named': () => post('gardens/methods', { name: 'Deep hay' }),
  'a garden is added': async () => {
    const page = (await trial.keeper.get(`${trial.base}/gardens`)).text
    const siteId = choicesIn(page)('siteId')['Quern Hill']
    return post('gardens/gardens', { siteId, name: 'Hay Meadow', grossAreaCm2: '50' })
  },
  'the same crop is planted in other beds': async () => {
    const choices = await choicesOfNext()
    const beds = Object.fromEntries(
      Object.values(trial.gardens).map((id) => [id, Object.values(choices(`beds[${id}]`)).at(-1) ?? '']),
    )
    const planted = { sownOn: '2026-10-01', areaCm2: '2', how: 'direct', purpose: 'harvest' }
    return post(`seasons/${next}/plantings`, {
      cropId: choices('cropId').carrot,
      cultivar: 'Kestrel',
      ...planted,
      beds,
    })
  },
  'a relay is sown into what still stands of the closed season': async () => {
    const choices = await choicesOfNext()
    const of = (id = '') => [id, choices(`beds[${id}]`)['Bed 1'] ?? ''] as const
    const beds = Object.fromEntries(Object.values(trial.gardens).map((id) => of(id)))
    const relay = { cultivar: 'Wren', areaCm2: '2', how: 'direct', purpose: 'harvest', interplanted: 'yes' }
    return post(`seasons/${next}/plantings`, { cropId: choices('cropId').radish, ...relay, sownOn: '2026-08-20', beds })
  },
  'asparagus is cut and weeded in the next season': async () => {
    const hours = { place: `planting:${asparagus}`, task: 'weeding', time: '0:40', workedOn: '2026-08-12' }
    await post('weeks/2026-W33/hours', hours)
    return post('weeks/2026-W33/harvests', { plantingId: asparagus, harvestedOn: '2026-08-13', marketable: '0.7' })
  },
  'it is cleared': () => post(`seasons/${trial.season}/clearings`, { plantingId: asparagus, clearedOn: '2026-10-01' }),
  'leeks are looked at again, out of store': () =>
    post('weeks/2026-W33/harvests', {
      ...{ id: late, plantingId: leeks, harvestedOn: '2026-08-13', marketable: '0.3', state: 'from store' },
    }),
  'another state of a crop counts, and its price is another': () =>
    correct(`crops/${cropIds.leek}`, {
      name: 'leek',
      weighedAs: 'from store',
      priceMinorPerKg: '9',
      pricedFrom: '2026-09-01',
    }),
  'a potato costs more from a day on': () =>
    correct(`crops/${cropIds.potato}`, { name: 'potato', priceMinorPerKg: '2.80', pricedFrom: '2026-09-01' }),
  'a crop counts toward the season of picking': () =>
    correct(`crops/${cropIds.carrot}`, { name: 'carrot', countsWhenPicked: 'picked', regrows: 'yes' }),
  'hay lasts longer': async () => {
    const inputs = (await trial.keeper.get(`${trial.base}/inputs`)).text
    const id = /correct\/inputs\/([0-9a-f-]{36})/.exec(inputs)?.[1]
    const as = { name: 'Hay', kind: 'mulch', unit: 'bale', ownMade: 'bought', rawManure: 'no', basis: 'element' }
    return correct(`inputs/${id}`, { ...as, usefulLifeSeasons: '3' })
  },
  'a container is weighed again': () =>
    correct(`containers/${crate}`, { name: 'Blue', tareG: '0.5', since: '', surely: 'yes' }),
}

let cropIds: Record<string, string> = {}
const correct = async (row: string, fields: Record<string, string>) => {
  const page = `${trial.base}/correct/${row}`
  const version = /name="version" value="(\d+)"/.exec((await trial.keeper.get(page)).text)?.[1] ?? ''
  return trial.keeper.post(page, { version, touchesSoil: 'yes', family: '', source: '', ...fields })
}

it('no change dated after a closed season moves a byte of its figures', async () => {
  expect((await weigh(trial, '3.2')).status).toBe(303)
  const other = { plantingId: plantingOf(trial, 'carrot', 'Long'), harvestedOn: '2026-01-28', marketable: '4.1' }
  await trial.keeper.post(`${trial.base}/weeks/2026-W05/harvests`, { id: newId(), ...other })
  cropIds = choicesIn((await trial.keeper.get(`${trial.base}/seasons/${trial.season}`)).text)('cropId')
  const first = { name: 'potato', priceMinorPerKg: '1.20', pricedFrom: '' }
  expect((await correct(`crops/${cropIds.potato}`, first)).status).toBe(303)
  const closing = `${trial.base}/seasons/${trial.season}/close`
  const version = /name="version" value="(\d+)"/.exec((await trial.keeper.get(closing)).text)?.[1]
  expect((await trial.keeper.post(closing, { version })).status).toBe(303)
  const before = await closedFigures()
  expect(before).toContain('"marketableG":6100')
  expect(before).toContain('"worthMinor":240,')
  for (const [name, change] of Object.entries(later)) {
    expect([name, (await change()).status]).toEqual([name, 303])
    expect([name, await closedFigures()]).toEqual([name, before])
  }
})

/** What is dated after the season, with a number of days and a weight drawn for it. */
const drawn: Readonly<Record<string, (day: string, kg: string) => Promise<{ readonly status: number }>>> = {
  'leeks of the closed season are picked': (day, kg) =>
    post(`weeks/${weekOf(day as IsoDate)}/harvests`, {
      plantingId: leeks,
      harvestedOn: day,
      marketable: kg,
      surely: 'yes',
    }),
  'hours on them': (day) =>
    post(`weeks/${weekOf(day as IsoDate)}/hours`, {
      ...{ place: `planting:${leeks}`, task: 'weeding', time: '1:00', workedOn: day, surely: 'yes' },
    }),
  'a state that does not count': (day, kg) =>
    post(`weeks/${weekOf(day as IsoDate)}/harvests`, {
      ...{ plantingId: leeks, harvestedOn: day, marketable: kg, state: 'trimmed', surely: 'yes' },
    }),
  'hours on a garden': (day) =>
    post(`weeks/${weekOf(day as IsoDate)}/hours`, {
      ...{ place: `garden:${trial.gardens.bank}`, task: 'weeding', time: '2:00', workedOn: day },
    }),
  'hay is spread': (day) =>
    post('inputs/spreadings', {
      ...{ deliveryId: hay, place: `garden:${trial.gardens.lower}`, appliedOn: day, quantityThousandths: '1' },
    }),
  'a bed grows or shrinks': async (day, kg) =>
    post(`${bank()}/resized`, { bedId: await bedNamed('Bed 1'), areaCm2: String(15 + Number(kg)), fromDay: day }),
  'a bed comes': (day, kg) => post(`${bank()}/added`, { name: `New ${day} ${kg}`, areaCm2: '0.5', fromDay: day }),
  'a loss is written': (day) =>
    post(`weeks/${weekOf(day as IsoDate)}/losses`, {
      ...{ plantingId: asparagus, lostOn: day, percent: '10', cause: 'weather', outside: 'no', alsoNextDoor: 'no' },
    }),
  'a crop counts otherwise': (day) =>
    correct(`crops/${cropIds.leek}`, { name: 'leek', weighedAs: Number(day.slice(-2)) % 2 ? 'trimmed' : 'dried' }),
  'a crop costs otherwise': (day, kg) =>
    correct(`crops/${cropIds.potato}`, { name: 'potato', priceMinorPerKg: kg, pricedFrom: day }),
  'hay lasts otherwise': async (day) => {
    const id = /correct\/inputs\/([0-9a-f-]{36})/.exec((await trial.keeper.get(`${trial.base}/inputs`)).text)?.[1]
    const as = { name: 'Hay', kind: 'mulch', unit: 'bale', ownMade: 'bought', rawManure: 'no', basis: 'element' }
    return correct(`inputs/${id}`, {
      ...as,
      usefulLifeSeasons: String(1 + (Number(day.slice(-1)) % 4)),
      lifeSince: day,
    })
  },
}

it('no sequence of such changes, drawn at random, moves it', async () => {
  const before = await closedFigures()
  const told = new Map<string, number>()
  const one = fc.record({
    name: fc.constantFrom(...Object.keys(drawn)),
    after: fc.integer({ min: 0, max: 170 }),
    kg: fc.integer({ min: 1, max: 9 }),
  })
  await fc.assert(
    fc.asyncProperty(fc.array(one, { minLength: 4, maxLength: 8 }), async (sequence) => {
      for (const { name, after, kg } of sequence) {
        const day = addDays('2026-06-01' as IsoDate, after)
        const answer = await drawn[name]?.(day, String(kg))
        if (answer?.status === 303) told.set(name, (told.get(name) ?? 0) + 1)
        expect([name, await closedFigures()]).toEqual([name, before])
      }
    }),
    { numRuns: 8, seed: 20_261_128 },
  )
  // What would move it is refused; most of the others were taken, or the sequences would show nothing.
  expect([told.has('leeks of the closed season are picked'), told.has('hours on them')]).toEqual([false, false])
  expect([...told.keys()].sort()).toEqual(
    Object.keys(drawn)
      .filter((name) => !['leeks of the closed season are picked', 'hours on them'].includes(name))
      .sort(),
  )
  const leek = { plantingId: leeks, harvestedOn: '2026-08-13', marketable: '1' }
  expect(plain((await post('weeks/2026-W33/harvests', leek)).text)).toContain(
    'This leek counts toward a season that is over and closed',
  )
}, 120_000)

it('a price without a day, or of a day before its end, would move it, and asks why', async () => {
  const before = await closedFigures()
  const early = { name: 'potato', priceMinorPerKg: '3', pricedFrom: '2026-01-01' }
  const asked = await correct(`crops/${cropIds.potato}`, early)
  expect([asked.status, await closedFigures()]).toEqual([422, before])
  expect(plain(asked.text)).toContain('A closed season was worth what it was by this price: say from which day')
  const told = await correct(`crops/${cropIds.potato}`, { ...early, closedReason: 'the market list says 3.00' })
  expect([told.status, (await closedFigures()).includes('"worthMinor":600,')]).toEqual([303, true])
})

it('beds without a day would give it ground, and are asked for one', async () => {
  const answer = await post('gardens/beds', {
    gardenId: trial.gardens.bank,
    count: '1',
    areaCm2: '1',
    name: 'More',
    thereSince: '',
  })
  expect(answer.status).toBe(422)
  expect(answer.text).toContain('2025/26 is closed: say from which day these beds are there')
})
