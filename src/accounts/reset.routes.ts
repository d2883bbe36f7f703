import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify'
import type { Database } from '../db/database.ts'
import { type RefusedForm, readForm } from '../web/form.ts'
import { notFound, Problem } from '../web/problem.ts'
import { readingIn } from '../web/reading-in.ts'
import { wordsHere } from '../web/words-here.ts'
import { wordsFor } from '../words/locales.ts'
import { type Mailing, tellingBy } from './letters.queries.ts'
import { groupsOf, type Person } from './members.queries.ts'
import { forgottenForm, resetForm } from './own-account.form.ts'
import { placeOf } from './place.ts'
import { addReset, personOfAddress, personOfReset, useReset } from './resets.queries.ts'
import { mayTry } from './sessions.queries.ts'

const words = () => wordsHere().account
const config = { access: 'public' } as const
/** Links by one place, in a quarter of an hour: a token is not guessed, but looking one up is not free. */
const mostLinks = 60
/** Letters that may be asked for in an hour, from one place and for one address. */
const [mostAskedAt, mostAskedFor] = [20, 3]

/** With the locale of their group. */
type PersonThere = Person & { readonly locale: string }

interface OfLink {
  Params: { token: string }
}

/** A forgotten password: a link by mail where mail is set up, and the one that an operator makes. */
export function resetRoutes(app: FastifyInstance, database: Database, { mailing }: { mailing: Mailing | null }): void {
  const tell = tellingBy(database, mailing)

  app.get('/forgotten', { config }, (_request, reply) => forgotten(reply, {}))

  app.post('/forgotten', { config }, async (request, reply) => {
    const form = readForm(forgottenForm, request.body)
    if (form.kind === 'refused') return forgotten(reply, form)
    const { email } = form.value
    const tries = [
      [`forgotten at ${placeOf(request.ip)}`, mostAskedAt],
      [`forgotten ${email}`, mostAskedFor],
    ] as const
    for (const [key, most] of tries) if (!(await mayTry(database, key, most, 60))) throw new Problem('too-often')
    // Not waited for: the answer and the time it takes are the same whether somebody has this address or not.
    if (mailing) void sendLink(email).catch((error: unknown) => request.log.error({ err: error }, 'failed'))
    return reply.backTo('/sign-in', words().onItsWay)
  })

  app.get<OfLink>('/reset/:token', { config }, async (request, reply) => show(reply, await personAsked(request)))

  app.post<OfLink>('/reset/:token', { config }, async (request, reply) => {
    const person = await personAsked(request)
    const form = readingIn(person.locale, () => readForm(resetForm(person), request.body))
    if (form.kind === 'refused') return show(reply, person, form.errors)
    const personId = await useReset(database, request.params.token, form.value.newPassword)
    if (personId === null) throw notFound()
    await tell(personId, (letters) => letters.password)
    return reply.backTo('/sign-in', words().resetDone)
  })

  async function sendLink(email: string): Promise<void> {
    const [personId, token] = [await personOfAddress(database, email), await addReset(database, email)]
    if (personId === null || token === null) return
    await tell(personId, (letters, origin) => letters.link(`${origin}/reset/${token}`))
  }

  function forgotten(reply: FastifyReply, { typed = {}, errors = {} }: Partial<RefusedForm>) {
    const status = Object.keys(errors).length > 0 ? 422 : 200
    const page = { typed, errors, byMail: mailing !== null }
    return reply.page('accounts/forgotten', page, { title: words().forgottenTitle, status })
  }

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
