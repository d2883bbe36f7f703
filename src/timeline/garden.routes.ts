import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify'
import { lyingOn } from '../gardens/areas-held.ts'
import { sent } from '../lookups/unsaid.ts'
import { dayIn, type IsoDate } from '../quantities/dates.ts'
import { plantingsKept } from '../seasons/kept-plantings.queries.ts'
import { plantingsOf } from '../seasons/seasons.queries.ts'
import { type RefusedForm, readForm, refuseForm } from '../web/form.ts'
import { notFound } from '../web/problem.ts'
import { textAsked } from '../web/query-of.ts'
import { wordsHere } from '../web/words-here.ts'
import { closuresShown } from './closures.page.ts'
import { closureForm } from './garden.form.ts'
import { gardenPage } from './garden.page.ts'
import { type GardenYear, gardenYear, saveClosure } from './garden.queries.ts'
import { askedOf, happenedOn, kinds, latestOf } from './happened.ts'
import { standingUnder } from './restart.ts'

interface GardenRoute {
  Params: { garden: string }
}
type GardenRequest = FastifyRequest<GardenRoute>

export function gardenYearRoutes(app: FastifyInstance): void {
  app.get<GardenRoute>(
    '/g/:group/gardens/:garden',
    { config: { access: 'reader', keepsPage: true } },
    (request, reply) => show(request, reply, null),
  )

  app.get<GardenRoute>('/g/:group/gardens/:garden.json', { config: { access: 'reader' } }, async (request) => {
    const rows = await yearOf(request)
    if (!rows) throw notFound()
    const today = dayIn(request.member.group.timeZone, new Date())
    const { kind, season } = askedIn(request, rows, today)
    return {
      schemaVersion: 1,
      garden: { id: rows.garden.id, name: rows.garden.name },
      kind,
      season: season && { id: season.id, name: season.name },
      beds: lyingOn(rows.beds, today).map(({ id, name, areaCm2 }) => ({ id, name, areaCm2 })),
      events: askedOf(happenedOn(rows, today), { kind, season }),
    }
  })

  app.post<GardenRoute>(
    '/g/:group/gardens/:garden/closures',
    { config: { access: 'recorder' } },
    async (request, reply) => {
      const form = readForm(closureForm, request.body)
      if (form.kind === 'refused') return show(request, reply, form)
      const { group, personId } = request.member
      const { surely, ...given } = form.value
      const errors = await request.write(async (tx) => {
        const year = await gardenYear(tx, group, request.params.garden, await plantingsOf(tx, group.id))
        if (!year) throw notFound()
        if (!year.beds.some((bed) => bed.id === given.bedId)) return { bedId: wordsHere().fields.notChosen }
        const standing = standingUnder(given, year.plantings)
        if (standing.length > 0 && !surely) return { surely: wordsHere().timeline.standsThere(standing) }
        await saveClosure(tx, { groupId: group.id, createdBy: personId }, given)
        return null
      })
      if (errors) return show(request, reply, refuseForm(request.body, errors))
      return reply.backTo(`/g/${group.slug}/gardens/${request.params.garden}`, wordsHere().timeline.closureSaved)
    },
  )
}

const yearOf = (request: GardenRequest) =>
  request.readAtOnce(async (tx) =>
    gardenYear(tx, request.member.group, request.params.garden, await plantingsKept(tx, request)),
  )

async function show(request: GardenRequest, reply: FastifyReply, refused: RefusedForm | null) {
  const { group, role } = request.member
  const rows = await yearOf(request)
  if (!rows) throw notFound()
  const today = dayIn(group.timeZone, new Date())
  const asked = askedIn(request, rows, today)
  const page = {
    ...gardenPage(rows, asked, group.locale, today),
    asked: { kind: sent(asked.kind), season: asked.season?.id ?? 'all' },
    kinds,
    seasons: rows.seasons.map(({ id, name }) => ({ value: id, label: name })),
    closures: closuresShown(rows, group.locale, today),
    typed: refused?.typed ?? { id: reply.freshId() },
    errors: refused?.errors ?? {},
    mayChange: role === 'keeper',
    mayRecord: role !== 'reader',
  }
  return reply.page('timeline/garden', page, { title: rows.garden.name, status: refused ? 422 : 200 })
}

/**
 * "?kind=" and "?season=", a season's id or "all"; without one the latest in which anything happened. Another is not
 * there.
 */
function askedIn(request: FastifyRequest, rows: GardenYear, today: IsoDate) {
  const [kind = '', season, month = ''] = ['kind', 'season', 'month'].map((name) => textAsked(request, name))
  const chosen = season
    ? rows.seasons.find((one) => one.id === season)
    : latestOf(happenedOn(rows, today), rows.seasons)
  const known = kinds.find((one) => one === kind) ?? null
  if ((kind !== '' && known === null) || (season && season !== 'all' && !chosen)) throw notFound()
  return { kind: known, season: chosen ?? null, month }
}
