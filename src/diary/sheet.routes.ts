import type { FastifyInstance } from 'fastify'
import { wordsFor } from '../words/locales.ts'
import { sheetPage } from './sheet.page.ts'
import { rowsOfSheet } from './week-read.routes.ts'
import { weekSheet } from './week-sheet.page.ts'
import { weekIn } from './writing.routes.ts'

/** The week on paper, to print and fill in; a filled one is typed on the sheet itself, whole and in the same order. */
export function sheetRoutes(app: FastifyInstance): void {
  const address = '/g/:group/weeks/:week/sheet'

  app.get(address, { config: { access: 'reader' } }, async (request, reply) => {
    const { group, role } = request.member
    const week = weekIn(request)
    const words = wordsFor(group.locale)
    const rows = await request.readAtOnce((tx) => rowsOfSheet(tx, request, week))
    const all = { picked: rows.lastUsed.picked, find: '', typedIn: new Set<string>(), whole: true, onPaper: true }
    const page = sheetPage(weekSheet({ ...rows, ...all, week, locale: group.locale, words }))
    const more = { unit: group.weightUnit, mayRecord: role !== 'reader' }
    return reply.page('diary/sheet', { ...page, ...more }, { title: words.sheet.title(page.number) })
  })

  app.get(`${address}/typed`, { config: { access: 'recorder' } }, (request, reply) =>
    reply.redirect(`/g/${request.member.group.slug}/weeks/${weekIn(request)}?from=paper`, 303),
  )
}
