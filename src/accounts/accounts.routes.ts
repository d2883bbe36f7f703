import type { FastifyInstance, FastifyReply } from 'fastify'
import { constraintOf } from '../db/constraint.ts'
import type { Database } from '../db/database.ts'
import { type RefusedForm, readForm, refuseForm } from '../web/form.ts'
import { Problem } from '../web/problem.ts'
import { catalogue } from '../words/catalogue.ts'
import { signInForm, signUpForm } from './accounts.form.ts'
import { sessionCookie } from './guard.routes.ts'
import { addPerson, groupsOf, personWithPassword } from './members.queries.ts'
import { closeSession, mayTry, openSession } from './sessions.queries.ts'

const words = catalogue.accounts
const mostTries = 10

export interface AccountOptions {
  readonly secureCookies: boolean
  readonly demo: boolean
}

export function accountRoutes(app: FastifyInstance, database: Database, { secureCookies, demo }: AccountOptions): void {
  const welcome = async (reply: FastifyReply, personId: string, next: string | undefined) => {
    const token = await openSession(database, personId)
    const options = { path: '/', httpOnly: true, sameSite: 'lax', secure: secureCookies, maxAge: 60 * 86_400 } as const
    return reply.setCookie(sessionCookie, token, options).redirect(withinHere(next), 303)
  }

  app.get('/', { config: { access: 'public' } }, async (request, reply) => {
    const groups = request.person ? await groupsOf(database, request.person.id) : []
    const page = { groups, signedIn: request.person !== null, demo }
    return reply.page('accounts/front', page, { title: words.front.title })
  })

  app.get<{ Querystring: { next?: string } }>('/sign-up', { config: { access: 'public' } }, async (request, reply) =>
    reply.page('accounts/sign-up', { typed: { next: request.query.next }, errors: {} }, { title: words.signUp.title }),
  )

  app.post<{ Body: { next?: string } }>('/sign-up', { config: { access: 'public' } }, async (request, reply) => {
    if (!(await mayTry(database, `sign-up ${request.ip}`, mostTries))) throw new Problem('too-often')
    const form = readForm(signUpForm, request.body)
    if (form.kind === 'refused') return wrong(reply, 'accounts/sign-up', words.signUp.title, form)
    try {
      return await welcome(reply, await addPerson(database, form.value), request.body.next || '/groups/new')
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
    const allowed =
      (await mayTry(database, `sign-in ${email}`, mostTries)) && (await mayTry(database, `sign-in ${request.ip}`, 60))
    if (!allowed) throw new Problem('too-often')
    const personId = await personWithPassword(database, email, password)
    if (personId) return welcome(reply, personId, next)
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
