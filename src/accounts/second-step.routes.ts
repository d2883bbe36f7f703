import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify'
import type { Database } from '../db/database.ts'
import { sent } from '../lookups/unsaid.ts'
import { stepCookieOf } from '../web/cookies.ts'
import { readForm } from '../web/form.ts'
import { textSent } from '../web/query-of.ts'
import { squareCode } from '../web/square-code.ts'
import { wordsHere } from '../web/words-here.ts'
import { type Mailing, tellingBy } from './letters.queries.ts'
import { groupsOf } from './members.queries.ts'
import { nextIn, onward } from './next-in.routes.ts'
import { codeForm, codesForm } from './own-account.form.ts'
import { presentMissing } from './own-account.page.ts'
import { presenceOf } from './passkeys.queries.ts'
import { askingFirst, askingPresent, countCode, personOf, tokenOf } from './present-password.routes.ts'
import {
  beginSecondStep,
  confirmSecondStep,
  endHalfSignIn,
  endSecondStep,
  personHalfIn,
  secondStepOf,
  takeCode,
} from './second-step.queries.ts'
import { raising, welcoming } from './welcome.routes.ts'
import { withinHere } from './within-here.ts'

const words = () => wordsHere().account.codes

interface StepOptions {
  readonly secureCookies: boolean
  /** Whether a passkey can be shown here. */
  readonly withPasskeys: boolean
  readonly mailing: Mailing | null
}

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
  { secureCookies, withPasskeys, mailing }: StepOptions,
): void {
  const tell = tellingBy(database, mailing)
  const isPresent = askingPresent(database, secureCookies)
  const raise = raising(database, secureCookies)
  const firstCounts = askingFirst(database, withPasskeys)
  const welcome = welcoming(database, secureCookies)
  const stepCookie = stepCookieOf(secureCookies)
  // The key for a program stands there until its first code is given.
  const config = { access: 'person', neverPacked: true } as const

  app.get('/sign-in/code', { config: { access: 'public' } }, async (request, reply) => ask(request, reply))

  app.post('/sign-in/code', { config: { access: 'public' } }, async (request, reply) => {
    const token = sent(request.cookies[stepCookie])
    const person = await personHalfIn(database, token)
    if (!person) return reply.redirect('/sign-in', 303)
    const form = readForm(codeForm, request.body)
    if (form.kind === 'refused') return ask(request, reply, form.errors)
    await countCode(database, request, person.id)
    if (!(await takeCode(database, person.id, form.value.code, new Date()))) {
      return ask(request, reply, { code: words().wrong })
    }
    await endHalfSignIn(database, token)
    void reply.clearCookie(stepCookie, { path: '/', secure: secureCookies })
    const to = withinHere(textSent(request.body, 'next'))
    return welcome(request, reply, { personId: person.id, email: person.email, factorShown: true, to })
  })

  app.get('/account/codes', { config }, (request, reply) => show(request, reply))

  app.post('/account/codes', { config }, async (request, reply) => {
    const form = readForm(codesForm, request.body)
    if (form.kind === 'refused') return show(request, reply, { errors: form.errors })
    if (!(await isPresent(request, form.value.codesPassword))) return notPresent(request, reply)
    await firstCounts(request)
    await beginSecondStep(database, personOf(request).id)
    return reply.backTo(`/account/codes${onward(nextIn(request))}`)
  })

  app.post('/account/codes/confirm', { config }, async (request, reply) => {
    const { id } = personOf(request)
    if ((await secondStepOf(database, id)).waiting === null) return reply.backTo('/account/codes')
    const form = readForm(codeForm, request.body)
    if (form.kind === 'refused') return show(request, reply, { errors: form.errors })
    await countCode(database, request, id)
    const counts = await firstCounts(request)
    const recovery = await confirmSecondStep(database, id, form.value.code, new Date())
    if (!recovery) return show(request, reply, { errors: { code: words().wrong } })
    if (counts) await raise(request, reply)
    await tell(id, (letters) => letters.codesBegun)
    return show(request, reply, { recovery })
  })

  app.post('/account/codes/end', { config }, async (request, reply) => {
    const form = readForm(codesForm, request.body)
    if (form.kind === 'refused') return show(request, reply, { errors: form.errors })
    if (!(await isPresent(request, form.value.codesPassword))) return notPresent(request, reply)
    await firstCounts(request)
    const { id } = personOf(request)
    const { isOn } = await secondStepOf(database, id)
    await endSecondStep(database, id)
    if (isOn) await tell(id, (letters) => letters.codesEnded)
    return reply.backTo('/account', words().ended)
  })

  const notPresent = (request: FastifyRequest, reply: FastifyReply) =>
    show(request, reply, { errors: { codesPassword: wordsHere().account.wrong } })

  async function ask(request: FastifyRequest, reply: FastifyReply, errors: Errors = {}) {
    const person = await personHalfIn(database, sent(request.cookies[stepCookie]))
    if (!person) return reply.redirect('/sign-in', 303)
    const page = { errors, next: withinHere(nextIn(request)) }
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
      next: nextIn(request),
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

/** What programs of codes read from the square. */
const keyAddress = (email: string, secret: string) =>
  `otpauth://totp/Evenground:${encodeURIComponent(email)}?secret=${secret}&issuer=Evenground`
