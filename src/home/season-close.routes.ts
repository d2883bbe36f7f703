import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify'
import { z } from 'zod'
import { wholeNumber } from '../web/fields.ts'
import { readForm } from '../web/form.ts'
import { notFound, Problem } from '../web/problem.ts'
import { wordsHere } from '../web/words-here.ts'
import { seasonClosePage } from './season-close.page.ts'
import { closeSeason, reopenSeason, seasonToClose } from './season-close.queries.ts'

const words = () => wordsHere().close
interface SeasonRoute {
  Params: { season: string }
}
type SeasonRequest = FastifyRequest<SeasonRoute>
const versionForm = z.object({ version: wholeNumber({ least: 1, most: 1_000_000 }) })

/** The end of a season: what is still open, and the closing that fixes what its figures rest on. */
export function seasonCloseRoutes(app: FastifyInstance): void {
  app.get<SeasonRoute>('/g/:group/seasons/:season/close', { config: { access: 'reader' } }, (request, reply) =>
    show(request, reply),
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
        if (!(await request.read((tx) => seasonToClose(tx, group.id, idIn(request))))) throw notFound()
        const version = form.kind === 'answer' ? form.value.version : 0
        const seen = { groupId: group.id, id: idIn(request), version, closedBy: personId }
        if (!(await request.write((tx) => save(tx, seen)))) throw new Problem('changed-meanwhile')
        return reply.backTo(`/g/${group.slug}/seasons/${request.params.season}/close`, notice)
      },
    )
  }
}

function idIn(request: SeasonRequest): string {
  if (!z.uuid().safeParse(request.params.season).success) throw notFound()
  return request.params.season
}

async function show(request: SeasonRequest, reply: FastifyReply) {
  const { group, role } = request.member
  const rows = await request.read((tx) => seasonToClose(tx, group.id, idIn(request)))
  if (!rows) throw notFound()
  const base = `/g/${group.slug}`
  const page = { ...seasonClosePage(rows, base, group.locale), base, mayChange: role === 'keeper' }
  return reply.page('home/season-close', page, { title: words().title(rows.season.name) })
}
