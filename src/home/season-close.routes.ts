import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify'
import { dayIn } from '../quantities/dates.ts'
import { type RefusedForm, readForm } from '../web/form.ts'
import { notFound, Problem } from '../web/problem.ts'
import { fieldsOf } from '../web/query-of.ts'
import { wordsHere } from '../web/words-here.ts'
import { versionForm } from './season-close.form.ts'
import { seasonClosePage } from './season-close.page.ts'
import { closeSeason, reopenSeason, seasonToClose } from './season-close.queries.ts'
import { idInAddress, seasonCloseSteps } from './season-close-steps.routes.ts'

const words = () => wordsHere().close
interface SeasonRoute {
  Params: { season: string }
}
type SeasonRequest = FastifyRequest<SeasonRoute>

/** The end of a season: what is still open, and the closing that fixes what its figures rest on. */
export function seasonCloseRoutes(app: FastifyInstance): void {
  seasonCloseSteps(app, show)
  app.get<SeasonRoute>('/g/:group/seasons/:season/close', { config: { access: 'reader' } }, (request, reply) =>
    show(request, reply, null),
  )
  for (const [path, save, notice] of [
    ['close', closeSeason, words().closed],
    ['reopen', reopenSeason, words().reopened],
  ] as const) {
    app.post<SeasonRoute>(
      `/g/:group/seasons/:season/${path}`,
      { config: { access: 'keeper' } },
      async (request, reply) => {
        const { group, personId } = request.member
        const form = readForm(versionForm, request.body)
        if (!(await request.read((tx) => seasonToClose(tx, group.id, idInAddress(request))))) throw notFound()
        const version = form.kind === 'answer' ? form.value.version : 0
        const seen = { groupId: group.id, id: idInAddress(request), version, closedBy: personId }
        if (!(await request.write((tx) => save(tx, seen)))) throw new Problem('changed-meanwhile')
        return reply.backTo(`/g/${group.slug}/seasons/${request.params.season}/close`, notice)
      },
    )
  }
}

async function show(request: SeasonRequest, reply: FastifyReply, refused: RefusedForm | null) {
  const { group, role } = request.member
  const id = idInAddress(request)
  const rows = await request.read((tx) => seasonToClose(tx, group.id, id))
  if (!rows) throw notFound()
  const base = `/g/${group.slug}`
  const today = dayIn(group.timeZone, new Date())
  const page = {
    ...seasonClosePage({ ...rows, today }, { base, locale: group.locale }),
    base,
    mayChange: role === 'keeper',
    typed: fieldsOf(refused?.typed.days ?? {}),
    errors: refused?.errors ?? {},
  }
  const title = words().title(rows.season.name)
  return reply.page('home/season-close', page, { title, status: refused ? 422 : 200 })
}
