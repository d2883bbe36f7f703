import type { FastifyInstance, FastifyReply } from 'fastify'
import { constraintOf } from '../db/constraint.ts'
import type { Database } from '../db/database.ts'
import { personCookie, sessionCookieOf } from '../web/cookies.ts'
import { type RefusedForm, readForm, refuseForm, type Typed } from '../web/form.ts'
import { Problem } from '../web/problem.ts'
import { wordsHere } from '../web/words-here.ts'
import { signInForm, signUpForm } from './accounts.form.ts'
import { addPerson, groupsOf } from './members.queries.ts'
import { markOf, passwordTried } from './passwords.queries.ts'
import { placeOf } from './place.ts'
import { beginHalfSignIn } from './second-step.queries.ts'
import { halfway } from './second-step.routes.ts'
import { closeSession, mayTry } from './sessions.queries.ts'
import { markCookie, welcoming } from './welcome.routes.ts'
import { withinHere } from './within-here.ts'

const words = () => wordsHere().accounts
/** New accounts from one place, in a quarter of an hour. */
const mostSignUps = 10

interface AccountOptions {
  readonly secureCookies: boolean
  readonly demo: boolean
  /** Whether a passkey can be shown at sign-in. */
  readonly withPasskeys: boolean
  /** What the example says first, for the page at the door. */
  readonly example: () => Promise<object | null>
}

export function accountRoutes(
  app: FastifyInstance,
  database: Database,
  { secureCookies, demo, withPasskeys, example }: AccountOptions,
): void {
  const welcome = welcoming(database, secureCookies)

  app.get('/', { config: { access: 'public' } }, async (request, reply) => {
    const groups = request.person ? await groupsOf(database, request.person.id) : []
    const page = { groups, signedIn: request.person !== null, demo, first: request.person ? null : await example() }
    // A device forgets there what it kept of a group that its owner is in no more.
    return reply.page('accounts/front', page, { title: words().front.title, scripted: page.signedIn })
  })

  app.get<{ Querystring: { next?: string } }>('/sign-up', { config: { access: 'public' } }, async (request, reply) =>
    reply.page(
      'accounts/sign-up',
      { typed: { next: request.query.next }, errors: {} },
      { title: words().signUp.title },
    ),
  )

  app.post<{ Body: { next?: string } }>('/sign-up', { config: { access: 'public' } }, async (request, reply) => {
    if (!(await mayTry(database, `sign-up ${placeOf(request.ip)}`, mostSignUps))) throw new Problem('too-often')
    const form = readForm(signUpForm, request.body)
    if (form.kind === 'refused') return signUpAgain(reply, form)
    try {
      const personId = await addPerson(database, form.value)
      const to = withinHere(request.body.next || '/groups/new')
      return await welcome(request, reply, { personId, email: form.value.email, factorShown: false, to })
    } catch (error) {
      if (constraintOf(error) !== 'people_email_is_taken') throw error
      return signUpAgain(reply, refuseForm(request.body, { email: words().signUp.taken }))
    }
  })

  app.get<{ Querystring: { next?: string } }>('/sign-in', { config: { access: 'public' } }, async (request, reply) =>
    signIn(reply, { typed: { next: request.query.next }, errors: {} }),
  )

  app.post('/sign-in', { config: { access: 'public' } }, async (request, reply) => {
    const form = readForm(signInForm, request.body)
    if (form.kind === 'refused') return signIn(reply, form)
    const { email, password, next } = form.value
    const mark = await markOf(database, email)
    const known = mark !== null && request.cookies[markCookie] === mark
    const by = known ? mark : placeOf(request.ip)
    const tried = await passwordTried(database, { email, password, by, known })
    if (tried.kind === 'too-often') throw new Problem('too-often')
    if (tried.kind === 'right') {
      const owed = await beginHalfSignIn(database, tried.personId)
      if (owed) return halfway(reply, { token: owed, secureCookies, next: withinHere(next) })
      return welcome(request, reply, { personId: tried.personId, email, factorShown: false, to: withinHere(next) })
    }
    return signIn(reply, refuseForm(request.body, { email: words().signIn.wrong }))
  })

  app.post('/sign-out', { config: { access: 'public' } }, async (request, reply) => {
    const sessionCookie = sessionCookieOf(secureCookies)
    const token = request.cookies[sessionCookie]
    if (token) await closeSession(database, token)
    void reply.clearCookie(personCookie, { path: '/' })
    return reply.clearCookie(sessionCookie, { path: '/', secure: secureCookies }).redirect('/', 303)
  })

  function signIn(reply: FastifyReply, { typed, errors }: Pick<RefusedForm, 'typed' | 'errors'>) {
    const status = Object.keys(errors).length > 0 ? 422 : 200
    const page = { typed: withoutPassword(typed), errors, withPasskeys }
    return reply.page('accounts/sign-in', page, { title: words().signIn.title, status, scripted: withPasskeys })
  }
}

const signUpAgain = (reply: FastifyReply, { typed, errors }: RefusedForm) =>
  reply.page(
    'accounts/sign-up',
    { typed: withoutPassword(typed), errors },
    { title: words().signUp.title, status: 422 },
  )

/** It is never sent back. */
const withoutPassword = ({ password: _typed, ...others }: Typed): Typed => others
