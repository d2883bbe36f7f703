import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify'
import type { Database } from '../db/database.ts'
import { sent } from '../lookups/unsaid.ts'
import { stepCookieOf } from '../web/cookies.ts'
import { readForm } from '../web/form.ts'
import { Problem } from '../web/problem.ts'
import { squareCode } from '../web/square-code.ts'
import { wordsHere } from '../web/words-here.ts'
import { groupsOf } from './members.queries.ts'
import { codeForm, codesForm } from './own-account.form.ts'
import { presentMissing } from './own-account.page.ts'
import { presenceOf } from './passkeys.queries.ts'
import { placeOf } from './place.ts'
import { askingFirst, askingPresent, personOf, tokenOf } from './present-password.routes.ts'
import {
  beginSecondStep,
  confirmSecondStep,
  endHalfSignIn,
  endSecondStep,
  personHalfIn,
  secondStepOf,
  takeCode,
} from './second-step.queries.ts'
import { mayTry } from './sessions.queries.ts'
import { raising, welcoming } from './welcome.routes.ts'
import { withinHere } from './within-here.ts'

const words = () => wordsHere().account.codes
/** Codes that are tried for a person in an hour, from one place and from everywhere. */
const [mostHere, mostOfAll] = [10, 100]

interface Half {
  readonly token: string
  readonly secureCookies: boolean
  readonly next: string
}

/** Answers a right password where a code is owed too. */
export function halfway(reply: FastifyReply, { token, secureCookies, next }: Half) {
  const options = { path: '/', httpOnly: true, sameSite: 'lax', secure: secureCookies, maxAge: 600 } as const
  return reply
    .setCookie(stepCookieOf(secureCookies), token, options)
    .redirect(`/sign-in/code?next=${encodeURIComponent(next)}`, 303)
}

/** A code of a program beside the password: set up, asked for at sign-in, ended. */
export function secondStepRoutes(
  app: FastifyInstance,
  database: Database,
  { secureCookies }: { secureCookies: boolean },
): void {
  const isPresent = askingPresent(database, secureCookies)
  const raise = raising(database, secureCookies)
  const firstCounts = askingFirst(database)
  const welcome = welcoming(database, secureCookies)
  const stepCookie = stepCookieOf(secureCookies)
  const config = { access: 'person' } as const

  app.get('/sign-in/code', { config: { access: 'public' } }, async (request, reply) => ask(request, reply))

  app.post('/sign-in/code', { config: { access: 'public' } }, async (request, reply) => {
    const token = sent(request.cookies[stepCookie])
    const person = await personHalfIn(database, token)
    if (!person) return reply.redirect('/sign-in', 303)
    const form = readForm(codeForm, request.body)
    if (form.kind === 'refused') return ask(request, reply, form.errors)
    await countTry(request, person.id)
    if (!(await takeCode(database, person.id, form.value.code, new Date()))) {
      return ask(request, reply, { code: words().wrong })
    }
    await endHalfSignIn(database, token)
    void reply.clearCookie(stepCookie, { path: '/', secure: secureCookies })
    const to = withinHere(nextOf(request.body))
    return welcome(request, reply, { personId: person.id, email: person.email, factorShown: true, to })
  })

  app.get('/account/codes', { config }, (request, reply) => show(request, reply))

  app.post('/account/codes', { config }, async (request, reply) => {
    const form = readForm(codesForm, request.body)
    if (form.kind === 'refused') return show(request, reply, { errors: form.errors })
    if (!(await isPresent(request, form.value.codesPassword))) return notPresent(request, reply)
    await beginSecondStep(database, personOf(request).id)
    return reply.backTo('/account/codes')
  })

  app.post('/account/codes/confirm', { config }, async (request, reply) => {
    const { id } = personOf(request)
    if ((await secondStepOf(database, id)).waiting === null) return reply.backTo('/account/codes')
    const form = readForm(codeForm, request.body)
    if (form.kind === 'refused') return show(request, reply, { errors: form.errors })
    await countTry(request, id)
    const counts = await firstCounts(request)
    const recovery = await confirmSecondStep(database, id, form.value.code, new Date())
    if (!recovery) return show(request, reply, { errors: { code: words().wrong } })
    if (counts) await raise(request, reply)
    return show(request, reply, { recovery })
  })

  app.post('/account/codes/end', { config }, async (request, reply) => {
    const form = readForm(codesForm, request.body)
    if (form.kind === 'refused') return show(request, reply, { errors: form.errors })
    if (!(await isPresent(request, form.value.codesPassword))) return notPresent(request, reply)
    await endSecondStep(database, personOf(request).id)
    return reply.backTo('/account', words().ended)
  })

  async function countTry({ ip }: FastifyRequest, personId: string): Promise<void> {
    const here = await mayTry(database, `code ${personId} ${placeOf(ip)}`, mostHere, 60)
    if (!here || !(await mayTry(database, `code ${personId}`, mostOfAll, 60))) throw new Problem('too-often')
  }

  const notPresent = (request: FastifyRequest, reply: FastifyReply) =>
    show(request, reply, { errors: { codesPassword: wordsHere().account.wrong } })

  async function ask(request: FastifyRequest, reply: FastifyReply, errors: Errors = {}) {
    const person = await personHalfIn(database, sent(request.cookies[stepCookie]))
    if (!person) return reply.redirect('/sign-in', 303)
    const page = { errors, next: withinHere(nextOf(request.method === 'GET' ? request.query : request.body)) }
    void reply.header('cache-control', 'no-store')
    return reply.page('accounts/code', page, { title: words().askTitle, ...(await optionsFor(person.id, errors)) })
  }

  async function show(request: FastifyRequest, reply: FastifyReply, { errors = {}, recovery }: Shown = {}) {
    const { id, email } = personOf(request)
    const { isOn, waiting, recoveryCodesLeft } = await secondStepOf(database, id)
    const presence = await presenceOf(database, id, tokenOf(request, secureCookies))
    const page = {
      errors: presentMissing(waiting ? onWaiting(errors) : errors, presence),
      presence,
      isOn,
      recoveryCodesLeft,
      recovery: recovery ?? null,
      secret: waiting?.replace(/(.{4})(?=.)/g, '$1 ') ?? null,
      code: waiting ? squareCode(keyAddress(email, waiting)) : null,
    }
    return reply.page('accounts/codes', page, { title: words().title, ...(await optionsFor(id, errors)) })
  }

  async function optionsFor(personId: string, errors: Errors) {
    const [group] = await groupsOf(database, personId)
    return { locale: group?.locale ?? 'en', status: Object.keys(errors).length > 0 ? 422 : 200 }
  }
}

type Errors = Readonly<Record<string, string>>

/** While the first code is waited for, the page has no field for the password that an error could lead to. */
const onWaiting = ({ codesPassword, ...errors }: Errors): Errors =>
  codesPassword === undefined ? errors : { ...errors, id: codesPassword }

interface Shown {
  readonly errors?: Errors
  /** The codes to come back by, shown this once. */
  readonly recovery?: readonly string[]
}

const nextOf = (given: unknown) => sent((given as { next?: unknown } | undefined)?.next)

/** What programs of codes read from the square. */
const keyAddress = (email: string, secret: string) =>
  `otpauth://totp/Evenground:${encodeURIComponent(email)}?secret=${secret}&issuer=Evenground`
