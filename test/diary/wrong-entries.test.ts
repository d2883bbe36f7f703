import { sql } from 'drizzle-orm'
import { afterAll, beforeAll, expect, it } from 'vitest'
import { newId } from '../../src/db/new-id.ts'
import { asMember } from '../../src/db/transaction.ts'
import { catalogue } from '../../src/words/catalogue.ts'
import { openPlace, type Place } from '../support/app.ts'
import { plain } from '../support/page-checks.ts'
import { choicesIn, plantingOf, setUpTrial, type Trial } from '../support/trial.ts'

/** What growers mistype: each answers its sentence, stores nothing, and keeps what was typed. */
let place: Place
let trial: Trial
beforeAll(async () => {
  place = await openPlace()
  trial = await setUpTrial(place)
})
afterAll(() => place.close())

const f = catalogue.fields
const d = catalogue.diary
type Wrong = readonly [typed: string, sentence: string]

const notWeights: Wrong[] = [
  ...[
    'abc',
    'kg',
    '1,5,5',
    '1.5.5',
    '2 stone',
    '3 pounds of it',
    '-1',
    '−2 kg',
    '1/2 kg',
    '1e3',
    '5 kgs',
    '4 l',
    '10 pcs',
    '1 kg 200',
    'NaN',
    'Infinity',
    '0x10',
    '１２',
    '1..5',
    '12 lb oz',
    '7 t',
  ].map((typed): Wrong => [typed, f.notWeight]),
  ['99999999', f.notWeight],
]
const notTimes: Wrong[] = [
  ...[
    'abc',
    '1:60',
    '1:5:0',
    '-1',
    '2 x',
    'x 2',
    '2 x x 1',
    '1.5.5',
    '3 days',
    '1h99',
    '9:',
    ':30',
    '2 × abc',
    '1e2',
    '300 x 1',
    '99999',
    'half an hour',
    '1;30',
    '1 30',
  ].map((typed): Wrong => [typed, f.notTime]),
  ['', f.missing],
  ['0', f.moreThanNothing],
  ['0:00', f.moreThanNothing],
  ['2 x 0', f.moreThanNothing],
]
const notAreas: Wrong[] = [
  ...[
    'abc',
    '1.2 x',
    'x 6',
    '1 x 2 x 3',
    '-4',
    '4 cubits',
    '5 m3',
    '1,2,3',
    '3 x -2',
    '2 y 3',
    '1e3',
    '10 kg',
    '7.2 m2 x 3 h',
    '99999999 ha',
  ].map((typed): Wrong => [typed, f.notArea]),
  ['', f.missing],
  ['0', f.moreThanNothing],
  ['0 x 5', f.moreThanNothing],
]
const notMoney: Wrong[] = [
  'abc',
  '12.505',
  '-3',
  '1,2,3',
  '12 EUR',
  '1e3',
  '12..5',
  '£5',
  'NZD NZD 5',
  '99999999999999',
].map((typed): Wrong => [typed, f.notMoney('NZD')])
const notDays: Wrong[] = [
  ...[
    '28.1.2026',
    '2026-02-30',
    '2026-13-01',
    'today',
    '28 January',
    '2026/01/28',
    '26-01-28',
    '2026-1-28',
    '2025-02-29',
    '20260128',
  ].map((typed): Wrong => [typed, f.noSuchDay]),
  ['', f.missing],
]
const notShares: Wrong[] = [
  ['0', f.atLeast(1)],
  ['101', f.atMost(100)],
  ['-5', f.notNumber],
  ['half', f.notNumber],
  ['12.5', f.notWhole],
  ['12,5', f.notWhole],
  ['', f.missing],
  ['10 %', f.notNumber],
  ['1e1', f.notNumber],
]
const notQuantities: Wrong[] = [
  ['abc', f.notNumber],
  ['-1', f.notNumber],
  ['2 stooks', catalogue.inputs.unknownMeasure('stooks')],
  ['1e3', f.notNumber],
  ['0', f.moreThanNothing],
  ['', f.missing],
]
const notCounts: Wrong[] = [
  ['0', f.atLeast(1)],
  ['61', f.atMost(60)],
  ['2.5', f.notWhole],
  ['many', f.notNumber],
  ['', f.missing],
]
const notEffort: Wrong[] = [
  ['0', f.atLeast(1)],
  ['6', f.atMost(5)],
  ['2.5', f.notWhole],
  ['hard', f.notNumber],
]
const notChoices: Wrong[] = ['', 'dancing', 'HARVEST', 'weeding;drop table', '1'].map(
  (typed): Wrong => [typed, f.notChosen],
)
const notPlaces: Wrong[] = [
  '',
  'garden',
  'garden:',
  'garden:1',
  'shed:018a0000-0000-7000-8000-000000000001',
  `garden:${newId()}`,
  `planting:${newId()}`,
].map((typed): Wrong => [typed, f.notChosen])

async function cases() {
  const week = `${trial.base}/weeks/2026-W05`
  const site = choicesIn((await trial.keeper.get(`${trial.base}/gardens`)).text)('siteId')
  const plantingId = plantingOf(trial, 'carrot', 'Lower')
  const harvest = { plantingId, harvestedOn: '2026-01-28', marketable: '1' }
  const hours = {
    place: `garden:${trial.gardens.lower}`,
    task: 'weeding',
    time: '1',
    phase: '',
    workedOn: '2026-01-28',
  }
  const loss = { plantingId, lostOn: '2026-01-28', percent: '10', cause: 'pest', outside: 'no', alsoNextDoor: 'no' }
  const delivery = {
    name: 'Straw',
    kind: 'mulch',
    unit: 'bale',
    quantityThousandths: '3',
    deliveredOn: '2026-01-05',
    ownMade: 'bought',
    usefulLifeSeasons: '1',
  }
  const beds = { gardenId: trial.gardens.lower, count: '1', areaCm2: '1', name: 'Row' }
  const garden = { siteId: site['Quern Hill'] ?? '', name: 'New ground', grossAreaCm2: '10' }
  const of = (address: string, base: object, field: string, wrongs: readonly Wrong[]) =>
    wrongs.map(([typed, sentence]) => ({ address, base, field, typed, sentence }))
  return [
    ...of(`${week}/harvests`, harvest, 'marketable', notWeights),
    ...of(`${week}/hours`, hours, 'time', notTimes),
    ...of(`${trial.base}/gardens/gardens`, garden, 'grossAreaCm2', notAreas),
    ...of(`${trial.base}/inputs/deliveries`, delivery, 'priceMinor', notMoney),
    ...of(`${trial.base}/inputs/deliveries`, delivery, 'deliveredOn', notDays),
    ...of(`${trial.base}/inputs/deliveries`, delivery, 'quantityThousandths', notQuantities),
    ...of(`${trial.base}/gardens/beds`, beds, 'count', notCounts),
    ...of(`${week}/losses`, loss, 'percent', notShares),
    ...of(`${week}/hours`, hours, 'effort', notEffort),
    ...of(`${week}/hours`, hours, 'task', notChoices),
    ...of(`${week}/hours`, hours, 'place', notPlaces),
    ...of(`${week}/harvests`, harvest, 'harvestedOn', [
      ['2026-02-02', d.notInWeek],
      ['2026-01-25', d.notInWeek],
    ]),
    ...of(`${week}/harvests`, { ...harvest, unmarketable: '1' }, 'why', [['', d.whyMissing]]),
    ...of(`${week}/harvests`, harvest, 'why', [['split', d.whyOfNothing]]),
    ...of(`${week}/harvests`, harvest, 'marketable', [['', d.nothingWeighed]]),
  ]
}

/** Fields that are chosen from a list: what is not on it cannot stand in it. */
const lists = ['task', 'place', 'harvestedOn', 'why']

const counted = ['harvests', 'labour_entries', 'losses', 'gardens', 'deliveries', 'inputs']

async function rowsStored(): Promise<number[]> {
  const slug = trial.keeper.slug
  const group = await place.database.drizzle.execute(sql`select id from groups where slug = ${slug}`)
  const groupId = (group as unknown as { rows: { id: string }[] }).rows[0]?.id ?? ''
  return asMember(place.database, { personId: null, groupId, readOnly: true }, async (tx) => {
    const found: number[] = []
    for (const name of counted) {
      const answer = await tx.execute(sql`select count(*) as n from ${sql.identifier(name)}`)
      found.push(Number((answer as unknown as { rows: { n: string }[] }).rows[0]?.n))
    }
    return found
  })
}

it('at least 120 wrong entries: the sentence of each, all that was typed, and nothing stored', async () => {
  const before = await rowsStored()
  const all = await cases()
  expect(all.length).toBeGreaterThanOrEqual(120)
  const missed: unknown[] = []
  for (const { address, base, field, typed, sentence } of all) {
    const answer = await trial.keeper.post(address, { ...base, id: newId(), [field]: typed })
    const text = plain(answer.text)
    const kept =
      typed === '' || lists.includes(field) || answer.text.includes(`value="${typed.replaceAll('"', '&quot;')}"`)
    const rest = { ...(base as Record<string, string>), [field]: '' }
    const others = Object.values(rest).filter((value) => /^[\w .-]+$/.test(value) && value !== '')
    const stillThere = others.every((value) => answer.text.includes(value))
    if (answer.status !== 422 || !text.includes(sentence) || !kept || !stillThere) {
      missed.push({ field, typed, status: answer.status, said: text.includes(sentence), kept, stillThere })
    }
  }
  expect(missed).toEqual([])
  expect(await rowsStored()).toEqual(before)
})
