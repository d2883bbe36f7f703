import { newId } from '../../src/db/new-id.ts'
import { dayIn } from '../../src/quantities/dates.ts'
import { daysOf, weekAfter, weekOf } from '../../src/quantities/iso-week.ts'
import { sectionKeys } from '../../src/reports/sections.ts'
import { Visitor } from './visitor.ts'

/** A person with a copy of the example of their own, and what can be written in its latest week. */
export interface Example {
  readonly visitor: Visitor
  readonly slug: string
  readonly week: string
  /** The first day of that week. */
  readonly day: string
  readonly plantings: readonly string[]
  readonly hours: readonly string[]
}

const zone = 'Europe/Vienna'
const weeksBack = 40

export async function copyOfExample(base: string): Promise<Example> {
  const visitor = new Visitor(base)
  await visitor.signUp(`rook-${newId()}@example.org`)
  const copied = await visitor.post('/demo/copy', {})
  const slug = /\/g\/([\w-]+)/.exec(copied.headers.get('location') ?? '')?.[1]
  if (!slug) throw new Error(`The example was answered by ${copied.status}: ${copied.text}`)
  const today = dayIn(zone, new Date())
  for (let back = 0; back < weeksBack; back++) {
    const week = weekAfter(weekOf(today), -back)
    const { text } = await visitor.get(`/g/${slug}/weeks/${week}?rows=all`)
    const all = (pattern: RegExp) => [...new Set([...text.matchAll(pattern)].map((found) => found[1] ?? ''))]
    const plantings = all(/name="w\[([\w-]{36})\]\[good\]"/g)
    const hours = all(/name="(h\[[\w-]{36}\]\[\w+\])\[time\]"/g)
    const [monday = ''] = daysOf(week)
    if (plantings.length > 0 && hours.length > 0) return { visitor, slug, week, day: monday, plantings, hours }
  }
  throw new Error('No week of the example can be written in')
}

/** The sheet of number `n`: a weight and a time. */
export function sheetFields({ day, plantings, hours }: Example, n: number) {
  const [planting, hour] = [plantings[n % plantings.length] ?? '', hours[n % hours.length] ?? '']
  const fields: Record<string, string> = {
    ...{ id: newId(), day, to: 'save' },
    ...{ [`w[${planting}][good]`]: `${400 + (n % 977)} g`, [`w[${planting}][surely]`]: 'yes' },
    ...{ [`${hour}[time]`]: `${5 + (n % 87)} min`, [`${hour}[surely]`]: 'yes' },
  }
  return { fields, cells: 2 }
}

/** The address behind which a frozen report of all seasons stands, with every part on it. */
export async function sharedReport({ visitor, slug }: Example): Promise<string> {
  const id = newId()
  const fields: [string, string][] = [
    ...Object.entries({ id, title: 'Three seasons', words: '', season: 'all', keeps: 'frozen', step: 'finish' }),
    ...sectionKeys.map((key, i): [string, string] => [`sections[${i}]`, key]),
  ]
  await visitor.get(`/g/${slug}/reports`)
  await visitor.post(`/g/${slug}/reports`, Object.fromEntries(fields))
  await visitor.get(`/g/${slug}/reports/${id}`)
  const page = await visitor.post(`/g/${slug}/reports/${id}/links`, { endsOn: '', passphrase: '' })
  const address = /\/r\/[\w-]+/.exec(page.text)?.[0]
  if (!address) throw new Error(`The link was answered by ${page.status}: ${page.text}`)
  return address
}
