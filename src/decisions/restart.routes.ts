import type { FastifyInstance, FastifyRequest } from 'fastify'
import { closuresOf } from '../comparison/record/closures.queries.ts'
import { recordKeptAt } from '../comparison/record/kept-record.queries.ts'
import { atOnce } from '../db/at-once.ts'
import { bedsOf, gardensOf } from '../gardens/gardens.queries.ts'
import { under } from '../lookups/held.ts'
import { asShown, sent } from '../lookups/unsaid.ts'
import { patchesOf } from '../notes/notes.queries.ts'
import { areaAsTyped, labourAsTyped, moneyAsTyped } from '../quantities/as-typed.ts'
import { formatArea, formatDay, formatNumber } from '../quantities/formatting.ts'
import { decimalsOf } from '../quantities/money.ts'
import { seasonsOf } from '../seasons/seasons.queries.ts'
import { seedOf } from '../statistics/seed-of.ts'
import { readForm } from '../web/form.ts'
import { notFound } from '../web/problem.ts'
import { queryOf } from '../web/query-of.ts'
import { wordsHere } from '../web/words-here.ts'
import { type Answered, unanswered } from './answered.ts'
import { askedOver } from './asked-over.ts'
import { seasonsCovered } from './covered-before.ts'
import { ends, fieldOf, groundForm, restartForm } from './restart.form.ts'
import { restartPage } from './restart.page.ts'
import { assumedKeys } from './restart-chances.ts'
import { coverMinutesPerM2, type RestartStart, restartStart } from './restart-start.ts'
import { restartFigures } from './scenario-figures.ts'
import { toLog } from './to-log.ts'

const words = () => wordsHere().deciding.restart

/** As many as keep a share steady to about one in a hundred: sqrt(0.25 / 2000) is 0.011. */
const draws = 2000

export function restartRoutes(app: FastifyInstance): void {
  app.get('/g/:group/decide/restart', { config: { access: 'reader' } }, async (request, reply) => {
    const { group, role } = request.member
    const thought = await thoughtOver(request)
    if (!thought) return reply.page('decisions/restart', { bed: null }, { title: words().title })
    const { bed, grounds, start, typed, form, wrong } = thought
    const errors = form.kind === 'refused' && wrong ? form.errors : {}
    const result = form.kind === 'refused' ? null : restartPage(askedOf(form.value, thought), group)
    const page = {
      bed,
      bedChoices: grounds.map(({ id, name }) => ({ value: id, label: name })),
      area: areaAsTyped(start.areaCm2, group.areaUnit),
      areaWrong: thought.areaWrong,
      rests: restsOn(start, group.locale),
      isPatchWritten: start.patch !== null,
      typed,
      rows: rowsTyped({ typed, errors, from: fromSaid(start) }),
      errors,
      result,
      logAddress: result && role === 'keeper' ? logAddressOf(request, bed, result) : null,
    }
    return reply.page('decisions/restart', page, {
      title: words().question(bed.name),
      status: wrong && form.kind === 'refused' ? 422 : 200,
    })
  })

  app.get('/g/:group/decide/restart.json', { config: { access: 'reader' } }, async (request, reply) => {
    const thought = await thoughtOver(request)
    if (!thought) throw notFound()
    if (thought.form.kind === 'refused') return reply.status(422).send({ errors: thought.form.errors })
    return { ...restartFigures(askedOf(thought.form.value, thought)), currency: request.member.group.currency }
  })
}

/** For the page of a season's end: the bed whose patch was seen last. */
export async function restartAnswered(request: FastifyRequest): Promise<Answered> {
  const thought = await thoughtOver(request)
  if (!thought) return unanswered('restart')
  const { bed, form, seen } = thought
  const about = words().question(bed.name)
  if (!seen) return unanswered('restart')
  if (form.kind === 'refused') return { ...unanswered('restart'), about, answer: words().blank }
  const { group } = request.member
  const { answer, chance, decides, handed } = restartPage(askedOf(form.value, thought), group)
  return { key: 'restart', about, answer, sure: [chance], change: decides, handed }
}

function logAddressOf({ url, member }: FastifyRequest, bed: Bed, { answer, handed }: ReturnType<typeof restartPage>) {
  return toLog(member.group, { ...handed, question: words().question(bed.name), finding: answer, from: url })
}

interface Bed {
  readonly id: string
  readonly name: string
}

type Thought = NonNullable<Awaited<ReturnType<typeof thoughtOver>>>
type Given = Extract<Thought['form'], { kind: 'answer' }>['value']

/** The same bed is always drawn alike, so that a page that is opened again shows the same figures. */
const askedOf = (given: Given, { bed, typed }: Pick<Thought, 'bed' | 'typed'>) => ({
  ...given,
  bed: bed.name,
  seed: seedOf(bed.id),
  draws,
  lines: linesOf(typed),
  ground: bed.bedIds.includes(bed.id) ? { bedId: bed.id } : { gardenId: bed.id },
})

/** What is assumed, as it stands in the form. */
const linesOf = (typed: Record<string, string>) => [
  ...assumedKeys.map((key) => {
    const [low, middle, high] = ends.map((end) => under(typed, fieldOf(key, end)))
    return words().assumed(words().rows[key], `${middle}`, `${low}`, `${high}`)
  }),
  ...(['seasons', 'wage', 'pricePerKg', 'materials'] as const).flatMap((name) =>
    typed[name] ? [`${words().fields[name]}: ${typed[name]}`] : [],
  ),
]

/** What the record and the address say together; null where there is no bed. */
async function thoughtOver(request: FastifyRequest) {
  const { group } = request.member
  const asked = queryOf(request)
  const { record, grounds, patches } = await request.readAtOnce(async (tx) => {
    const [closures, seasons] = await atOnce([closuresOf(tx, group.id), seasonsOf(tx, group.id)])
    const rowsOf = seasonsCovered(seasons, closures)
    return {
      record: (await recordKeptAt(tx, request, rowsOf.length === 0 ? 'sums' : { rowsOf })).record,
      grounds: groundsOf(await gardensOf(tx, group.id), await bedsOf(tx, group.id)),
      patches: await patchesOf(tx, group.id),
    }
  })
  // The bed whose patch was seen last is the one that is thought about.
  const seen = [...patches].sort((a, b) => (a.seenOn < b.seenOn ? 1 : -1)).find((one) => one.bedId !== null)
  const named = (id: unknown) => grounds.find((one) => one.id === id)
  const bed = named(asked.bed) ?? named(seen?.bedId) ?? grounds[0]
  if (!bed) return null
  const area = readForm(groundForm(group), asked)
  const areaCm2 = area.kind === 'answer' ? area.value.area : null
  const start = restartStart(record, patches, { bedIds: bed.bedIds, areaCm2 })
  if (!start) return null
  const typed = askedOver(startTyped(start, request), asked)
  const form = readForm(restartForm(group), typed)
  // On first opening, what the record does not know is blank and not yet wrong.
  const wrong = form.kind === 'refused' && Object.keys(typed).some((name) => name in asked)
  const areaWrong = area.kind === 'refused' ? area.errors.area : undefined
  return { bed, grounds, start, typed, form, wrong, areaWrong, seen: seen !== undefined }
}

interface WeedyGround extends Bed {
  readonly bedIds: readonly string[]
}

/** Each bed, and where a garden has several all of them together. */
function groundsOf(
  gardens: readonly Bed[],
  beds: readonly { readonly id: string; readonly gardenId: string; readonly name: string }[],
): WeedyGround[] {
  return gardens.flatMap((garden) => {
    const own = beds.filter((bed) => bed.gardenId === garden.id)
    const each = own.map((bed) => ({ id: bed.id, name: `${garden.name}, ${bed.name}`, bedIds: [bed.id] }))
    const all = { id: garden.id, name: words().allBeds(garden.name), bedIds: own.map((bed) => bed.id) }
    return own.length > 1 ? [...each, all] : each
  })
}

type Key = (typeof assumedKeys)[number]
type Typed = readonly [low: string, middle: string, high: string]

/** A figure of the record may be a third less or half as much again. */
const around = (middle: number, write: (value: number) => string): Typed => [
  write(middle / 1.5),
  write(middle),
  write(middle * 1.5),
]
const blank: Typed = ['', '', '']
const none: Typed = ['0', '0', '0']
const time = (minutes: number) => labourAsTyped(Math.round(minutes), 1)
const percent = (share: number) => String(Math.round(100 * share))
const kilograms = (grams: number) => String(Math.round(grams / 100) / 10)

function startTyped(start: RestartStart, request: FastifyRequest): Record<string, string> {
  const { currency, labourRateMinorPerHour: wage } = request.member.group
  const cover = ((start.cover?.minutesPerM2 ?? coverMinutesPerM2) * start.areaCm2) / 10_000
  const falls = start.falls === null ? null : String(Math.round(100 * start.falls))
  const rows: Record<Key, Typed> = {
    covered: ['1', '1.5', '2'],
    coverMinutes: around(cover, time),
    hoeMinutes: start.hoe ? around(start.hoe.minutes, time) : blank,
    falls: falls === null ? none : ['0', falls, falls],
    lostToWeed: ['0', '10', '25'],
    comesBack: start.back
      ? [percent(start.back.low), percent(start.back.middle), percent(start.back.high)]
      : ['20', '50', '80'],
    ownG: start.own ? around(start.own.grams, kilograms) : none,
    ownMinutes: start.own ? around(start.own.minutes, time) : none,
    transplantMinutes: none,
    transplantLost: none,
  }
  const fields = assumedKeys.flatMap((key) => ends.map((end, i) => [fieldOf(key, end), asShown(rows[key][i])] as const))
  return {
    ...Object.fromEntries(fields),
    seasons: '5',
    wage: wage == null ? '' : moneyAsTyped(wage, decimalsOf(currency)),
    pricePerKg: '',
    materials: '',
  }
}

interface Rows {
  readonly typed: Record<string, string>
  readonly errors: Record<string, string>
  readonly from: Record<Key, string>
}

const rowsTyped = ({ typed, errors, from }: Rows) =>
  assumedKeys.map((key) => ({
    key,
    label: words().rows[key],
    from: from[key],
    fields: ends.map((end) => {
      const name = fieldOf(key, end)
      return {
        name,
        label: `${words().rows[key]}, ${words().columns[end]}`,
        value: sent(typed[name]),
        error: errors[name],
      }
    }),
  }))

/** Where each figure that stands in the form comes from. */
function fromSaid({ hoe, own, falls, cover, back }: RestartStart): Record<Key, string> {
  const { from } = words()
  const ownSaid = own ? (own.fromClean ? from.own : from.ownAll)(own.method, own.season) : from.ownNone
  return {
    covered: from.covered,
    coverMinutes: cover ? from.coverOwn(cover.beds) : from.cover,
    hoeMinutes: hoe ? (hoe.over === 'clean beds' ? from.hoeAbove : from.hoeAll)(hoe.season) : from.hoeNone,
    falls: falls === null ? from.fallsNone : from.falls,
    lostToWeed: from.guess,
    comesBack: back ? from.back(back.back, back.covers) : from.guess,
    ownG: ownSaid,
    ownMinutes: ownSaid,
    transplantMinutes: from.transplants,
    transplantLost: from.transplants,
  }
}

function restsOn({ patch }: RestartStart, locale: string): string {
  if (!patch) return words().rests.noPatch
  const area = patch.areaCm2 === null ? words().rests.someGround : formatArea(patch.areaCm2, locale)
  const shoots = patch.shootsPerM2 === null ? null : formatNumber(patch.shootsPerM2, locale, 0)
  return words().rests.patch(patch.species, area, shoots, formatDay(patch.seenOn, locale))
}
