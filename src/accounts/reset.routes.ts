import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify'
import type { Database } from '../db/database.ts'
import { readForm } from '../web/form.ts'
import { notFound, Problem } from '../web/problem.ts'
import { readingIn } from '../web/reading-in.ts'
import { wordsHere } from '../web/words-here.ts'
import { wordsFor } from '../words/locales.ts'
import { groupsOf, type Person } from './members.queries.ts'
import { resetForm } from './own-account.form.ts'
import { placeOf } from './place.ts'
import { personOfReset, useReset } from './resets.queries.ts'
import { mayTry } from './sessions.queries.ts'

const words = () => wordsHere().account
const config = { access: 'public' } as const
/** Links by one place, in a quarter of an hour: a token is not guessed, but looking one up is not free. */
const mostLinks = 60

/** With the locale of their group. */
type PersonThere = Person & { readonly locale: string }

interface OfLink {
  Params: { token: string }
}

/** The link that an operator makes for whoever has forgotten their password. */
export function resetRoutes(app: FastifyInstance, database: Database): void {
  app.get<OfLink>('/reset/:token', { config }, async (request, reply) => show(reply, await personAsked(request)))

  app.post<OfLink>('/reset/:token', { config }, async (request, reply) => {
    const person = await personAsked(request)
    const form = readingIn(person.locale, () => readForm(resetForm(person), request.body))
    if (form.kind === 'refused') return show(reply, person, form.errors)
    if (!(await useReset(database, request.params.token, form.value.newPassword))) throw notFound()
    return reply.backTo('/sign-in', words().resetDone)
  })

  async function personAsked({ ip, params }: FastifyRequest<OfLink>): Promise<PersonThere> {
    if (!(await mayTry(database, `reset ${placeOf(ip)}`, mostLinks))) throw new Problem('too-often')
    const person = await personOfReset(database, params.token)
    if (!person) throw notFound()
    const [group] = await groupsOf(database, person.id)
    return { ...person, locale: group?.locale ?? 'en' }
  }

  async function show(
    reply: FastifyReply,
    { email, locale }: PersonThere,
    errors: Readonly<Record<string, string>> = {},
  ) {
    void reply.header('cache-control', 'no-store')
    const status = Object.keys(errors).length > 0 ? 422 : 200
    const page = { email, errors, address: reply.request.url }
    return reply.page('accounts/reset', page, { title: wordsFor(locale).account.resetTitle, locale, status })
  }
}
