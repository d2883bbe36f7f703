import { join } from 'node:path'
import pg from 'pg'
import { openEmbedded } from '../../src/db/embedded.ts'
import { newId } from '../../src/db/new-id.ts'
import { addDays, dayIn, type IsoDate } from '../../src/quantities/dates.ts'
import { daysOf, weekAfter, weekOf } from '../../src/quantities/iso-week.ts'
import { Visitor } from './visitor.ts'

const [gardens, crops, weeks, writers] = [5, 4, 40, 4]
/** Entries of a sheet: twenty weights and five lines of hours. */
export const weightsOfSheet = gardens * crops
export const perSheet = weightsOfSheet + gardens
const zone = 'Pacific/Auckland'
const tasks = ['weeding', 'harvest', 'watering', 'sowing', 'planting', 'feeding', 'clearing', 'recording', 'other']

/** The keeper of the group of a service. */
export const emailOf = ({ base }: { readonly base: string }) => `rook-${new URL(base).port}@example.org`

/** A group of five gardens in its season, and the devices of its keeper. */
export async function setUp({ base }: { readonly base: string }): Promise<{ slug: string; devices: Visitor[] }> {
  const email = emailOf({ base })
  const first = new Visitor(base)
  await first.signUp(email)
  const made = await first.post('/groups', { name: 'Quern Hill Growers', country: 'NZ' })
  const slug = made.headers.get('location')?.split('/')[2] ?? ''
  const today = dayIn(zone, new Date())
  const rows = (count: number, row: (i: number) => Record<string, string>) =>
    Object.fromEntries(
      Array.from({ length: count }, (_, i) => i).flatMap((i) =>
        Object.entries(row(i)).map(([name, value]) => [`rows[${i}][${name}]`, value]),
      ),
    )
  const garden = (i: number) => ({
    ...{ name: `Garden ${i + 1}`, method: `Method ${i + 1}`, grossAreaCm2: '70', beds: '6 of 8 m2' },
  })
  const laid = await first.post(`/g/${slug}/setting-up/gardens`, {
    id: newId(),
    ground: 'one',
    ...rows(gardens, garden),
  })
  const names = ['carrot', 'potato', 'onion', 'leek']
  const sown = (i: number) => ({
    ...{ crop: names[i] ?? '', cultivar: 'Kestrel', sownOn: addDays(today, -340) },
  })
  const page = (await first.get(laid.headers.get('location') ?? '')).text
  const lies = [...page.matchAll(/name="(lies\[[^"]+)" value="([^"]*)"/g)].map((found) => [found[1], found[2]])
  const begun = await first.post(`/g/${slug}/setting-up/season`, {
    ...{ id: newId(), ...Object.fromEntries(lies) },
    ...{ startsOn: addDays(today, -350), endsOn: addDays(today, 10), ...rows(crops, sown) },
  })
  if (begun.status !== 303) throw new Error(`The season was answered by ${begun.status}: ${begun.text}`)
  const others = Array.from({ length: writers - 1 }, () => new Visitor(base))
  for (const one of others) await one.signIn(email)
  return { slug, devices: [first, ...others] }
}

export interface Ground {
  readonly plantings: readonly string[]
  readonly gardens: readonly string[]
  readonly day: IsoDate
}

export async function groundOf(device: Visitor, slug: string): Promise<Ground> {
  const day = dayIn(zone, new Date())
  const { text } = await device.get(`/g/${slug}/weeks/${weekOf(day)}?rows=all`)
  const all = (pattern: RegExp) => [...new Set([...text.matchAll(pattern)].map((found) => found[1] ?? ''))]
  const ground = { plantings: all(/name="w\[([\w-]{36})\]\[good\]"/g), gardens: all(/name="h\[([\w-]{36})\]/g), day }
  if (ground.plantings.length !== gardens * crops || ground.gardens.length !== gardens)
    throw new Error(`There are ${ground.plantings.length} plantings in ${ground.gardens.length} gardens`)
  return ground
}

/** The weights of a sheet are grams from `number * 20 + 1` on, its hours minutes from `number * 5 + 1` on. */
export function sheetOf(number: number, ground: Ground) {
  const week = weekAfter(weekOf(ground.day), -1 - (number % weeks))
  const task = tasks[number % tasks.length] ?? 'other'
  const cells = [
    ...ground.plantings.flatMap((id, i) => [
      [`w[${id}][good]`, `${number * gardens * crops + i + 1} g`],
      [`w[${id}][surely]`, 'yes'],
    ]),
    ...ground.gardens.flatMap((id, i) => [
      [`h[${id}][${task}][time]`, `${number * gardens + i + 1} min`],
      [`h[${id}][${task}][surely]`, 'yes'],
    ]),
  ]
  const [monday = ''] = daysOf(week)
  return {
    week,
    fields: { id: newId(), day: monday, to: 'save', ...Object.fromEntries(cells) } as Record<string, string>,
  }
}

/** How often each number of grams and of minutes stands in the record. */
interface Stored {
  readonly grams: ReadonlyMap<number, number>
  readonly minutes: ReadonlyMap<number, number>
}

export async function storedIn(databaseUrl: string | undefined, folder: string): Promise<Stored> {
  const weighed = 'select marketable_g::int as n, count(*)::int as times from harvests group by 1'
  const worked = 'select person_minutes::int as n, count(*)::int as times from labour_entries group by 1'
  type Row = { n: number; times: number }
  const counted = (rows: readonly Row[]) => new Map(rows.map(({ n, times }) => [n, times]))
  if (databaseUrl) {
    const client = new pg.Client({ connectionString: databaseUrl })
    await client.connect()
    const [grams, minutes] = [await client.query<Row>(weighed), await client.query<Row>(worked)]
    await client.end()
    return { grams: counted(grams.rows), minutes: counted(minutes.rows) }
  }
  const database = await openEmbedded(join(folder, 'database'))
  const [grams, minutes] = [await database.engine.query<Row>(weighed), await database.engine.query<Row>(worked)]
  await database.close()
  return { grams: counted(grams.rows), minutes: counted(minutes.rows) }
}

interface Ended {
  readonly sheets: number
  readonly stored: Stored
  readonly acknowledged: ReadonlySet<number>
  readonly abandoned: ReadonlySet<number>
  readonly wrong: string[]
}

/** Says what is not there, there twice, or there in part; gives how many of the abandoned sheets are stored. */
export function checked({ sheets, stored, acknowledged, abandoned, wrong }: Ended): number {
  let there = 0
  const spoken = new Set([...acknowledged, ...abandoned])
  for (let number = 0; number < sheets; number++) {
    const times = [
      ...Array.from({ length: gardens * crops }, (_, i) => stored.grams.get(number * gardens * crops + i + 1) ?? 0),
      ...Array.from({ length: gardens }, (_, i) => stored.minutes.get(number * gardens + i + 1) ?? 0),
    ]
    if (!spoken.has(number)) wrong.push(`sheet ${number} was never answered`)
    else if (times.every((one) => one === 1)) there += abandoned.has(number) ? 1 : 0
    else if (acknowledged.has(number) || times.some((one) => one > 0))
      wrong.push(`sheet ${number}: its entries are there ${[...new Set(times)].join(' and ')} times`)
  }
  const expected = (acknowledged.size + there) * perSheet
  const sum = [stored.grams, stored.minutes].flatMap((one) => [...one.values()]).reduce((a, b) => a + b, 0)
  if (sum !== expected) wrong.push(`${sum} entries are stored in place of ${expected}`)
  return there
}
