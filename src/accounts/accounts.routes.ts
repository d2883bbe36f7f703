import type { FastifyInstance, FastifyReply } from 'fastify'
import { constraintOf } from '../db/constraint.ts'
import type { Database } from '../db/database.ts'
import { type RefusedForm, readForm, refuseForm } from '../web/form.ts'
import { Problem } from '../web/problem.ts'
import { catalogue } from '../words/catalogue.ts'
import { signInForm, signUpForm } from './accounts.form.ts'
import { sessionCookie } from './guard.routes.ts'
import { addPerson, groupsOf, markOf, personWithPassword } from './members.queries.ts'
import { placeOf } from './place.ts'
import { closeSession, giveBackTry, mayTry, openSession } from './sessions.queries.ts'

const words = catalogue.accounts
/** By account and place, in an hour, so that a stranger closes an account to their own place alone. */
const mostTries = 10
/** By account, from everywhere: above it only a browser that was signed in before may try. */
const mostOfAll = 100
/** Marks a browser that was signed in before. */
const markCookie = 'evenground-known'

interface Welcomed {
  readonly personId: string
  readonly email: string
  readonly next: string | undefined
}

export interface AccountOptions {
  readonly secureCookies: boolean
  readonly demo: boolean
  /** What the example says first, for the page at the door. */
  readonly example: () => Promise<object | null>
}

export function accountRoutes(
  app: FastifyInstance,
  database: Database,
  { secureCookies, demo, example }: AccountOptions,
): void {
  const welcome = async (reply: FastifyReply, { personId, email, next }: Welcomed) => {
    const token = await openSession(database, personId)
    const mark = (await markOf(database, email)) ?? ''
    const options = { path: '/', httpOnly: true, sameSite: 'lax', secure: secureCookies, maxAge: 60 * 86_400 } as const
    void reply.setCookie(markCookie, mark, { ...options, path: '/sign-in', maxAge: 400 * 86_400 })
    return reply.setCookie(sessionCookie, token, options).redirect(withinHere(next), 303)
  }

  app.get('/', { config: { access: 'public' } }, async (request, reply) => {
    const groups = request.person ? await groupsOf(database, request.person.id) : []
    const page = { groups, signedIn: request.person !== null, demo, first: request.person ? null : await example() }
    return reply.page('accounts/front', page, { title: words.front.title })
  })

  app.get<{ Querystring: { next?: string } }>('/sign-up', { config: { access: 'public' } }, async (request, reply) =>
    reply.page('accounts/sign-up', { typed: { next: request.query.next }, errors: {} }, { title: words.signUp.title }),
  )

  app.post<{ Body: { next?: string } }>('/sign-up', { config: { access: 'public' } }, async (request, reply) => {
    if (!(await mayTry(database, `sign-up ${placeOf(request.ip)}`, mostTries))) throw new Problem('too-often')
    const form = readForm(signUpForm, request.body)
    if (form.kind === 'refused') return wrong(reply, 'accounts/sign-up', words.signUp.title, form)
    try {
      const personId = await addPerson(database, form.value)
      return await welcome(reply, { personId, email: form.value.email, next: request.body.next || '/groups/new' })
    } catch (error) {
      if (constraintOf(error) !== 'people_email_is_taken') throw error
      return wrong(
        reply,
        'accounts/sign-up',
        words.signUp.title,
        refuseForm(request.body, { email: words.signUp.taken }),
      )
    }
  })

  app.get<{ Querystring: { next?: string } }>('/sign-in', { config: { access: 'public' } }, async (request, reply) =>
    reply.page('accounts/sign-in', { typed: { next: request.query.next }, errors: {} }, { title: words.signIn.title }),
  )

  app.post('/sign-in', { config: { access: 'public' } }, async (request, reply) => {
    const form = readForm(signInForm, request.body)
    if (form.kind === 'refused') return wrong(reply, 'accounts/sign-in', words.signIn.title, form)
    const { email, password, next } = form.value
    const mark = await markOf(database, email)
    const known = mark !== null && request.cookies[markCookie] === mark
    const place = placeOf(request.ip)
    const tries = [
      [`sign-in ${email} ${known ? mark : place}`, mostTries, 60],
      [`sign-in at ${known ? mark : place}`, 60, 15],
      [`sign-in ${email}`, known ? Number.POSITIVE_INFINITY : mostOfAll, 60],
    ] as const
    for (const [key, most, minutes] of tries) {
      if (!(await mayTry(database, key, most, minutes))) throw new Problem('too-often')
    }
    const personId = await personWithPassword(database, email, password)
    if (personId) {
      for (const [key] of tries) await giveBackTry(database, key)
      return welcome(reply, { personId, email, next })
    }
    return wrong(reply, 'accounts/sign-in', words.signIn.title, refuseForm(request.body, { email: words.signIn.wrong }))
  })

  app.post('/sign-out', { config: { access: 'public' } }, async (request, reply) => {
    const token = request.cookies[sessionCookie]
    if (token) await closeSession(database, token)
    return reply.clearCookie(sessionCookie, { path: '/' }).redirect('/', 303)
  })
}

/** Only an address of this service: "//elsewhere" and "/\elsewhere" would leave it. */
function withinHere(next: string | undefined): string {
  return next && /^\/(?![/\\])[\w\-./?=&%]*$/.test(next) ? next : '/'
}

function wrong(reply: FastifyReply, view: string, title: string, form: RefusedForm) {
  const { password: _neverSentBack, ...typed } = form.typed
  return reply.page(view, { typed, errors: form.errors }, { title, status: 422 })
}
