import type { FastifyInstance } from 'fastify'
import { gardensOf } from '../gardens/gardens.queries.ts'
import { plantingsOf, seasonsOf } from '../seasons/seasons.queries.ts'
import { catalogue } from '../words/catalogue.ts'

export function homeRoutes(app: FastifyInstance): void {
  app.get('/g/:group', { config: { access: 'reader' } }, async (request, reply) => {
    const { id } = request.member.group
    const page = await request.read(async (tx) => ({
      noGardens: (await gardensOf(tx, id)).length === 0,
      noSeasons: (await seasonsOf(tx, id)).length === 0,
      noPlantings: (await plantingsOf(tx, id)).length === 0,
    }))
    return reply.page('home/home', page, { title: catalogue.accounts.home.title })
  })
}
