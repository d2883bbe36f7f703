import type { FastifyInstance } from 'fastify'
import type { Database } from '../db/database.ts'
import { readForm } from '../web/form.ts'
import { textAsked, textSent } from '../web/query-of.ts'
import { wordsHere } from '../web/words-here.ts'
import { lettersFor, lettersRead } from './letters.queries.ts'
import { groupsOf } from './members.queries.ts'
import { lettersForm } from './own-account.form.ts'
import { letterLines } from './own-account.page.ts'
import { personOf } from './present-password.routes.ts'
import { withinHere } from './within-here.ts'

const config = { access: 'person' } as const

/** What could not be sent by mail, shown at sign-in until it is read. */
export function letterRoutes(app: FastifyInstance, database: Database): void {
  app.get('/letters', { config }, async (request, reply) => {
    const { id } = personOf(request)
    const next = withinHere(textAsked(request, 'next') ?? '/')
    const [group] = await groupsOf(database, id)
    const at = { locale: group?.locale ?? 'en', timeZone: group?.timeZone ?? null }
    const page = { next, letters: letterLines(await lettersFor(database, id), at) }
    return reply.page('accounts/letters', page, { title: wordsHere().account.waiting.title, locale: at.locale })
  })

  app.post('/letters', { config }, async (request, reply) => {
    const form = readForm(lettersForm, request.body)
    if (form.kind === 'answer') await lettersRead(database, personOf(request).id, form.value.read)
    return reply.redirect(withinHere(textSent(request.body, 'next')), 303)
  })
}
