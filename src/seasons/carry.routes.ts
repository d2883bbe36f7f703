import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify'
import { constraintOf } from '../db/constraint.ts'
import { newId } from '../db/new-id.ts'
import { lyingOver } from '../gardens/areas-held.ts'
import { asShown, sent } from '../lookups/unsaid.ts'
import { type RefusedForm, readForm, refuseForm } from '../web/form.ts'
import { notFound } from '../web/problem.ts'
import { queryOf } from '../web/query-of.ts'
import { wordsHere } from '../web/words-here.ts'
import { carryPage, chosenAs, type LineKept } from './carry.page.ts'
import { type CarryRows, type LinesAsked, seasonBefore } from './carry-lines.page.ts'
import { usualYears } from './family-returns.ts'
import { carriedForm, linesAsked, planAsked } from './plan.form.ts'
import { carriedFrom, carryOver, planRowsOf } from './plan.queries.ts'
import { assignmentsOf } from './seasons.queries.ts'

const words = () => wordsHere().plan.carry
interface SeasonRoute {
  Params: { season: string }
}
type SeasonRequest = FastifyRequest<SeasonRoute>

/** The plantings of the season before, offered to this one; looked at first, stored whole when it is confirmed. */
export function carryRoutes(app: FastifyInstance): void {
  const address = '/g/:group/seasons/:season/plan/carried'
  app.get<SeasonRoute>(address, { config: { access: 'keeper' } }, (request, reply) => {
    const query = queryOf(request)
    const asked = Object.keys(query).some((name) => name !== 'years') ? linesAsked(query) : null
    return show(request, reply, { asked, refused: null })
  })

  app.post<SeasonRoute>(address, { config: { access: 'keeper' } }, async (request, reply) => {
    const form = readForm(carriedForm, request.body)
    if (form.kind === 'refused') return show(request, reply, { asked: null, refused: form })
    const wrong = await carried(request, form.value)
    if (wrong) return show(request, reply, { asked: null, refused: refuseForm(request.body, { lines: wrong }) })
    return reply.backTo(`/g/${request.member.group.slug}/seasons/${request.params.season}/plan`, words().saved)
  })
}

async function carried(request: SeasonRequest, { lines }: { lines: readonly LineKept[] }) {
  const { group, personId } = request.member
  const rows = await request.read((tx) => planRowsOf(tx, group.id))
  if (!rows.seasons.some((one) => one.id === request.params.season)) throw notFound()
  const before = seasonBefore({ ...rows, seasonId: request.params.season })
  const isOffered = (line: LineKept) =>
    rows.beds.some((bed) => bed.id === line.bedId) &&
    rows.plantings.some((one) => one.id === line.plantingId && one.seasonId === before?.id)
  if (!before || !lines.every(isOffered)) return words().unreadable
  const wanted = { lines, seasonId: request.params.season }
  try {
    await request.write((tx) => carryOver(tx, { groupId: group.id, createdBy: personId }, wanted))
    return null
  } catch (error) {
    if (constraintOf(error) === 'plantings_fit_their_bed') return words().tooMuch
    throw error
  }
}

interface Shown {
  readonly asked: LinesAsked | null
  readonly refused: RefusedForm | null
}

/** The plan with the methods that lie on its ground, and what of it came from the season before. */
async function carryRowsOf(request: SeasonRequest): Promise<CarryRows> {
  const { group } = request.member
  const seasonId = request.params.season
  const rows = await request.read(async (tx) => ({
    ...(await planRowsOf(tx, group.id)),
    assignments: await assignmentsOf(tx, group.id),
  }))
  const before = seasonBefore({ ...rows, seasonId })
  const from = rows.plantings.filter((one) => one.seasonId === before?.id).map((one) => one.id)
  const own = rows.seasons.find((one) => one.id === seasonId)
  const beds = own ? lyingOver(rows.beds, own) : rows.beds
  return { ...rows, beds, seasonId, carriedFrom: carriedFrom(seasonId, from) }
}

async function show(request: SeasonRequest, reply: FastifyReply, { asked, refused }: Shown) {
  const { group } = request.member
  const rows = await carryRowsOf(request)
  const season = rows.seasons.find((one) => one.id === request.params.season)
  if (!season) throw notFound()
  const read = readForm(planAsked, request.query)
  const years = read.kind === 'answer' ? (read.value.years ?? usualYears) : usualYears
  const again = refused ? askedAgain(rows, refused.typed) : asked
  const shown = carryPage(rows, { locale: group.locale, years, asked: again })
  const page = {
    ...shown,
    // A few lines are shown at once; gardens with many are opened one by one.
    gardens: shown.gardens.map((garden) => ({
      ...garden,
      open: shown.lines <= 12 || garden.lines.some((one) => one.noRoom),
    })),
    season: { id: season.id, name: season.name },
    first: asShown(again?.first),
    years,
    yearsAsked: read.kind === 'refused' ? sent(read.typed.years) : String(years),
    yearsError: read.kind === 'refused' ? read.errors.years : undefined,
    id: String(refused?.typed.id ?? newId()),
    messages: Object.values(refused?.errors ?? {}),
  }
  return reply.page('seasons/carry', page, {
    title: words().title(season.name),
    status: refused || read.kind === 'refused' ? 422 : 200,
  })
}

/** What was confirmed and refused is shown as it was chosen. */
function askedAgain(rows: CarryRows, typed: Readonly<Record<string, unknown>>) {
  const read = readForm(carriedForm, typed)
  return read.kind === 'answer' ? chosenAs(rows, read.value.lines) : null
}
