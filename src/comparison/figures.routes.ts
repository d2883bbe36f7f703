import type { FastifyInstance } from 'fastify'
import { notFound } from '../web/problem.ts'
import { wordsHere } from '../web/words-here.ts'
import { figurePage, figuresIndex } from './figures.page.ts'

/** How the figures are made, open to all: an index, and a page for each measure and finding. */
export function figuresRoutes(app: FastifyInstance): void {
  app.get('/figures', { config: { access: 'public' } }, (_request, reply) =>
    reply.page('comparison/figures', figuresIndex(), { title: wordsHere().figures.title }),
  )

  app.get<{ Params: { measure: string } }>('/figures/:measure', { config: { access: 'public' } }, (request, reply) => {
    const page = figurePage(request.params.measure, 'en')
    if (!page) throw notFound()
    return reply.page('comparison/figure-made', page, { title: page.title })
  })
}
