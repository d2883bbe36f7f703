import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify'
import { constraintOf } from '../db/constraint.ts'
import { newId } from '../db/new-id.ts'
import { asShown, sent } from '../lookups/unsaid.ts'
import { dayIn } from '../quantities/dates.ts'
import { weekOf } from '../quantities/iso-week.ts'
import { assignmentsOf } from '../seasons/seasons.queries.ts'
import { type RefusedForm, readForm, refuseForm, type Typed } from '../web/form.ts'
import { fieldsOf, textAsked } from '../web/query-of.ts'
import { wordsHere } from '../web/words-here.ts'
import { firstSeasonForm, gardensForm } from './setting-up.form.ts'
import {
  type Lie,
  nextStep,
  packedLies,
  setUpLines,
  shownByLayout,
  unpackedLies,
  wrongAtCells,
} from './setting-up.page.ts'
import { type LiesUnder, saveFirstSeason, saveGardens, setUpSoFar } from './setting-up.queries.ts'
import type { GardensGiven, SeasonGiven } from './setting-up.ts'

const words = () => wordsHere().settingUp
const authorOf = ({ member }: FastifyRequest) => ({ groupId: member.group.id, createdBy: member.personId })
const baseOf = ({ member }: FastifyRequest) => `/g/${member.group.slug}`

/** A group's first hour as one conversation: gardens, then the season with its crops, then the first week. */
export function settingUpRoutes(app: FastifyInstance): void {
  const address = '/g/:group/setting-up'
  app.get(address, { config: { access: 'keeper' } }, async (request, reply) => {
    const step = nextStep(await soFar(request))
    if (step === 'week') return reply.redirect(await firstWeek(request), 303)
    return reply.redirect(`${baseOf(request)}/setting-up/${step}`, 303)
  })

  app.get(`${address}/gardens`, { config: { access: 'keeper' } }, (request, reply) => showGardens(request, reply, null))

  app.post(`${address}/gardens`, { config: { access: 'keeper' } }, async (request, reply) => {
    if (asksMore(request)) return showGardens(request, reply, null)
    const form = readForm(gardensForm(request.member.group.areaUnit), request.body)
    if (form.kind === 'refused') return showGardens(request, reply, form)
    const errors = await gardensSaved(request, form.value)
    if (errors) return showGardens(request, reply, refuseForm(request.body, errors))
    return reply.redirect(`${baseOf(request)}/setting-up/season?lies=${await liesSaid(request, form.value)}`, 303)
  })

  app.get(`${address}/season`, { config: { access: 'keeper' } }, (request, reply) => showSeason(request, reply, null))

  app.post(`${address}/season`, { config: { access: 'keeper' } }, async (request, reply) => {
    if (asksMore(request)) return showSeason(request, reply, null)
    const form = readForm(firstSeasonForm(request.member.group.areaUnit), request.body)
    if (form.kind === 'refused') return showSeason(request, reply, form)
    const errors = await seasonSaved(request, form.value)
    if (errors) return showSeason(request, reply, refuseForm(request.body, errors))
    return reply.backTo(await firstWeek(request), words().ready, null)
  })

  app.get(`${address}/what-it-shows`, { config: { access: 'reader' } }, showLayout)
}

/** The button that adds lines where scripts are off: the same page with all that was typed. */
const asksMore = ({ body }: FastifyRequest) => (body as Typed | undefined)?.more !== undefined

const soFar = (request: FastifyRequest) => request.read((tx) => setUpSoFar(tx, request.member.group.id))

/** This week, or the nearest one of the season. */
async function firstWeek(request: FastifyRequest): Promise<string> {
  const today = dayIn(request.member.group.timeZone, new Date())
  const season = (await soFar(request)).seasons.at(-1)
  const late = season && today > season.endsOn ? season.endsOn : today
  const day = season && late < season.startsOn ? season.startsOn : late
  return `${baseOf(request)}/weeks/${weekOf(day as typeof today)}`
}

async function gardensSaved(request: FastifyRequest, given: GardensGiven): Promise<Record<string, string> | null> {
  const names = { site: request.member.group.name, bed: words().bed }
  const twice = twiceNamed(given)
  if (twice !== null) return { [`rows.${twice}.name`]: wordsHere().gardens.nameTaken }
  try {
    await request.write((tx) => saveGardens(tx, authorOf(request), given, names))
    return null
  } catch (error) {
    if (!/name_is_taken/.test(constraintOf(error))) throw error
    return { [`rows.${Object.keys(given.rows)[0]}.name`]: wordsHere().gardens.nameTaken }
  }
}

/** The line of a garden whose name an earlier line has. */
function twiceNamed({ rows }: GardensGiven): string | null {
  const seen = new Set<string>()
  for (const [at, { name }] of Object.entries(rows)) {
    if (seen.has(name)) return at
    seen.add(name)
  }
  return null
}

async function liesSaid(request: FastifyRequest, given: GardensGiven): Promise<string> {
  const { gardens, methods } = await soFar(request)
  const rows = Object.values(given.rows)
  return packedLies(
    gardens.map((garden) => {
      const row = rows.find((one) => one.name === garden.name)
      return { method: methods.findIndex((one) => one.name === row?.method), since: row?.since ?? null }
    }),
  )
}

async function seasonSaved(request: FastifyRequest, given: SeasonGiven): Promise<Record<string, string> | null> {
  const lies: LiesUnder = new Map(
    Object.entries(given.lies).map(([garden, one]) => [garden, { methodId: one.methodId, since: one.since ?? null }]),
  )
  try {
    await request.write((tx) => saveFirstSeason(tx, authorOf(request), given, lies))
    return null
  } catch (error) {
    const constraint = constraintOf(error)
    if (constraint === 'seasons_do_not_overlap') return { startsOn: wordsHere().seasons.overlap }
    if (constraint === 'seasons_name_is_taken') return { startsOn: wordsHere().gardens.nameTaken }
    if (constraint === 'plantings_fit_their_bed') return { [areaCell(given)]: words().noRoom }
    throw error
  }
}

/** The first cell in which an area was said. */
function areaCell({ rows }: SeasonGiven): string {
  const said = Object.entries(rows).find(([, row]) => row.areaCm2)
  return `rows.${said?.[0] ?? Object.keys(rows)[0]}.areaCm2`
}

async function showGardens(request: FastifyRequest, reply: FastifyReply, refused: RefusedForm | null) {
  if ((await soFar(request)).gardens.length > 0 && refused === null) {
    return reply.redirect(`${baseOf(request)}/setting-up`, 303)
  }
  const typed = fieldsOf(request.body)
  const page = {
    id: refused?.typed.id ?? typed.id ?? newId(),
    ground: sent(typed.ground),
    lines: setUpLines(typed.rows, asksMore(request)),
    errors: refused?.errors ?? {},
    wrong: wrongAtCells(refused?.errors ?? {}, words().gardens.columns, words().atCell),
    base: baseOf(request),
  }
  return reply.page('home/setting-up-gardens', page, { title: words().gardens.title, status: refused ? 422 : 200 })
}

async function showSeason(request: FastifyRequest, reply: FastifyReply, refused: RefusedForm | null) {
  const { gardens, methods, crops, plantings } = await soFar(request)
  if (gardens.length === 0 || (plantings.length > 0 && refused === null)) {
    return reply.redirect(`${baseOf(request)}/setting-up`, 303)
  }
  const typed = fieldsOf(request.body)
  const said = typed.lies as Record<string, Lie> | undefined
  const carried = unpackedLies(textAsked(request, 'lies'), gardens, methods)
  const page = {
    id: refused?.typed.id ?? typed.id ?? newId(),
    startsOn: sent(typed.startsOn),
    endsOn: sent(typed.endsOn),
    // Asked only of somebody who comes back to it: on the way from the gardens the form carries it.
    asksLies: said === undefined ? carried === null : typed.asksLies !== undefined,
    lies: gardens.map(({ id, name }) => {
      const one = said?.[id] ?? carried?.get(id)
      return { id, garden: name, methodId: asShown(one?.methodId), since: asShown(one?.since) }
    }),
    methodChoices: [
      { value: '', label: words().choose },
      ...methods.map(({ id, name }) => ({ value: id, label: name })),
    ],
    crops: crops.map((one) => one.name),
    lines: setUpLines(typed.rows, asksMore(request)),
    errors: refused?.errors ?? {},
    wrong: wrongAtCells(refused?.errors ?? {}, words().season.columns, words().atCell),
    base: baseOf(request),
  }
  return reply.page('home/setting-up-season', page, { title: words().season.title, status: refused ? 422 : 200 })
}

async function showLayout(request: FastifyRequest, reply: FastifyReply) {
  const rows = await request.read(async (tx) => ({
    ...(await setUpSoFar(tx, request.member.group.id)),
    assignments: await assignmentsOf(tx, request.member.group.id),
  }))
  const season = rows.seasons.at(-1)
  if (!season) return reply.redirect(baseOf(request), 303)
  const shown = shownByLayout({ ...rows, seasonId: season.id }, request.member.group.locale)
  const page = { ...shown, href: `${baseOf(request)}/seasons/${season.id}/layout` }
  return reply.page('home/what-it-shows', page, { title: words().shows.title })
}
