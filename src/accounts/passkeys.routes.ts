import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify'
import type { Database } from '../db/database.ts'
import { readForm, type Typed } from '../web/form.ts'
import {
  addedIn,
  askedToAdd,
  askedToShow,
  countShown,
  type Offered,
  type PasskeysHere,
  passkeyAdded,
  shownIn,
} from '../web/passkey.ts'
import { notFound, Problem } from '../web/problem.ts'
import { textSent } from '../web/query-of.ts'
import { wordsHere } from '../web/words-here.ts'
import { type Mailing, tellingBy } from './letters.queries.ts'
import { groupsOf } from './members.queries.ts'
import { nextIn } from './next-in.routes.ts'
import { givenUpForm, passkeyAskedForm, passkeyForm, removedForm, renamedForm } from './own-account.form.ts'
import { passkeyLines, presentMissing } from './own-account.page.ts'
import {
  addPasskey,
  giveUpPassword,
  keepChallenge,
  markShown,
  passkeyNamed,
  passkeysOf,
  presenceOf,
  removePasskey,
  renamePasskey,
  takeChallenge,
  useUp,
} from './passkeys.queries.ts'
import type { ChallengePurpose } from './passkeys.table.ts'
import { placeOf } from './place.ts'
import { askingFirst, askingPresent, personOf, tokenOf } from './present-password.routes.ts'
import { endOtherSessions, mayTry } from './sessions.queries.ts'
import { raising, welcoming } from './welcome.routes.ts'
import { withinHere } from './within-here.ts'

const words = () => wordsHere().account.passkeys
const config = { access: 'person' } as const
const address = '/account/passkeys'
/** What is asked of devices for one place, in a quarter of an hour: each is kept for some minutes. */
const mostAsked = 60
/** Answers that were not right, by one place, in an hour: none is guessed, but looking at one is not free. */
const mostWrong = 30

interface PasskeyOptions {
  readonly secureCookies: boolean
  readonly mailing: Mailing | null
  readonly passkeysHere: PasskeysHere
}

/** Passkeys of a person: added, named, taken away, shown at sign-in and in place of the present password. */
export function passkeyRoutes(
  app: FastifyInstance,
  database: Database,
  { secureCookies, mailing, passkeysHere }: PasskeyOptions,
): void {
  const isPresent = askingPresent(database, secureCookies)
  const raise = raising(database, secureCookies)
  const firstCounts = askingFirst(database, passkeysHere.kind === 'offered')
  const welcome = welcoming(database, secureCookies)
  const tell = tellingBy(database, mailing)

  app.post('/sign-in/passkey/asked', { config: { access: 'public' } }, async (request, reply) => {
    const options = await askedToShow(await offered(request))
    await keepChallenge(database, { challenge: options.challenge, purpose: 'sign-in', personId: null })
    return reply.header('cache-control', 'no-store').send(options)
  })

  app.post('/sign-in/passkey', { config: { access: 'public' } }, async (request, reply) => {
    const next = withinHere(textSent(request.body, 'next'))
    const shown = await shownBy(request, 'sign-in', null)
    if (shown) return welcome(request, reply, { ...shown, factorShown: true, to: next })
    const page = { typed: { next }, errors: { id: words().wrong }, withPasskeys: passkeysHere.kind === 'offered' }
    const { title } = wordsHere().accounts.signIn
    return reply.page('accounts/sign-in', page, { title, status: 422, scripted: page.withPasskeys })
  })

  app.post('/account/present/asked', { config }, async (request, reply) => {
    const { id } = personOf(request)
    const options = await askedToShow(await offered(request), await passkeysOf(database, id))
    await keepChallenge(database, { challenge: options.challenge, purpose: 'present', personId: id })
    return reply.header('cache-control', 'no-store').send(options)
  })

  app.post('/account/present', { config }, async (request, reply) => {
    const shown = await shownBy(request, 'present', personOf(request).id)
    if (!shown) return show(request, reply, { errors: { id: words().wrong } })
    await markShown(database, tokenOf(request, secureCookies))
    await raise(request, reply)
    return reply.backTo(backIn(request) || address, words().isShown)
  })

  app.get(address, { config }, (request, reply) => show(request, reply))

  app.post(`${address}/asked`, { config }, async (request, reply) => {
    const here = await offered(request)
    const form = readForm(passkeyAskedForm, request.body)
    if (form.kind === 'refused' || !(await isPresent(request, form.value.addPassword))) {
      return reply.status(422).send({ problem: 'not-present', said: wordsHere().account.wrong })
    }
    await firstCounts(request)
    const { id: personId, email, name } = personOf(request)
    const options = await askedToAdd(here, { personId, email, name, known: await passkeysOf(database, personId) })
    await keepChallenge(database, { challenge: options.challenge, purpose: 'add', personId })
    return reply.header('cache-control', 'no-store').send(options)
  })

  app.post(address, { config }, async (request, reply) => {
    const here = await offered(request)
    const form = readForm(passkeyForm, request.body)
    if (form.kind === 'refused') return show(request, reply, form)
    const { id: personId } = personOf(request)
    const sent = addedIn(form.value.answer)
    const wasAsked = sent && (await takeChallenge(database, { challenge: sent.challenge, purpose: 'add', personId }))
    const added = wasAsked ? await passkeyAdded(sent.answer, { here, challenge: sent.challenge }) : null
    if (!added) return show(request, reply, { typed: form.value, errors: { id: words().wrong } })
    const { name } = form.value
    const counts = await firstCounts(request)
    if (!(await addPasskey(database, { ...added, personId, name }))) {
      return show(request, reply, { errors: { id: words().notAdded } })
    }
    if (counts) await raise(request, reply)
    await tell(personId, (letters) => letters.passkeyAdded(name))
    return reply.backTo(nextIn(request) || address, words().added)
  })

  app.post(`${address}/name`, { config }, async (request, reply) => {
    const form = readForm(renamedForm, request.body)
    if (form.kind === 'refused') return show(request, reply, form)
    await renamePasskey(database, personOf(request).id, form.value.renamed, form.value.newName)
    return reply.backTo(address, words().renamed)
  })

  app.post(`${address}/removal`, { config }, async (request, reply) => {
    const form = readForm(removedForm, request.body)
    if (form.kind === 'refused') return show(request, reply, form)
    const { removed, removePassword } = form.value
    const refused = (errors: Errors) => show(request, reply, { typed: { removed }, errors })
    if (!(await isPresent(request, removePassword))) return refused({ removePassword: wordsHere().account.wrong })
    await firstCounts(request)
    const { id } = personOf(request)
    const gone = await removePasskey(database, id, removed)
    if (gone === 'last') return refused({ id: words().last })
    if (gone === null) throw notFound()
    await tell(id, (letters) => letters.passkeyRemoved(gone.name))
    return reply.backTo(address, words().removed)
  })

  app.post(`${address}/alone`, { config }, async (request, reply) => {
    const form = readForm(givenUpForm, request.body)
    if (form.kind === 'refused') return show(request, reply, form)
    const refused = (errors: Errors) => show(request, reply, { errors })
    if (!(await isPresent(request, form.value.giveUpPassword))) {
      return refused({ giveUpPassword: wordsHere().account.wrong })
    }
    await firstCounts(request)
    const { id } = personOf(request)
    if (!(await giveUpPassword(database, id))) return refused({ id: words().noneYet })
    await endOtherSessions(database, id, tokenOf(request, secureCookies))
    await tell(id, (letters) => letters.passwordGivenUp)
    return reply.backTo(address, words().givenUp)
  })

  /** Whether passkeys are to be had here at all; what is asked of devices is counted by place. */
  async function offered({ ip }: FastifyRequest): Promise<Offered> {
    if (passkeysHere.kind === 'refused') throw notFound()
    if (!(await mayTry(database, `passkey asked ${placeOf(ip)}`, mostAsked))) throw new Problem('too-often')
    return passkeysHere
  }

  /** Who has shown a passkey of theirs; null where the answer is not right. Right ones are not counted. */
  async function shownBy({ ip, body }: FastifyRequest, purpose: ChallengePurpose, personId: string | null) {
    if (passkeysHere.kind === 'refused') throw notFound()
    const shown = await shownRight(passkeysHere, { sent: textSent(body, 'answer'), purpose, personId })
    if (!shown && !(await mayTry(database, `passkey wrong ${placeOf(ip)}`, mostWrong, 60)))
      throw new Problem('too-often')
    return shown
  }

  async function shownRight(here: Offered, { sent, purpose, personId }: Sent) {
    const read = shownIn(sent)
    if (!read || !(await takeChallenge(database, { challenge: read.challenge, purpose, personId }))) return null
    const found = await passkeyNamed(database, read.answer.id)
    if (!found || (personId !== null && found.passkey.personId !== personId)) return null
    const { passkey, email } = found
    const { challenge } = read
    const expected = { here, challenge, kept: passkey, personId: passkey.personId, ofWhomever: personId === null }
    const counter = await countShown(read.answer, expected)
    if (counter === null || !(await useUp(database, passkey.credentialId, counter))) return null
    return { personId: passkey.personId, email }
  }

  async function show(request: FastifyRequest, reply: FastifyReply, { typed = {}, errors = {} }: Shown = {}) {
    const { id } = personOf(request)
    const [group] = await groupsOf(database, id)
    const at = { locale: group?.locale ?? 'en', timeZone: group?.timeZone ?? null }
    const presence = await presenceOf(database, id, tokenOf(request, secureCookies))
    const page = {
      typed,
      next: nextIn(request) || backIn(request),
      errors: presentMissing(errors, presence),
      presence,
      refused: passkeysHere.kind === 'refused' ? passkeysHere.code : null,
      passkeys: passkeyLines(await passkeysOf(database, id), at),
    }
    const status = Object.keys(errors).length > 0 ? 422 : 200
    return reply.page('accounts/passkeys', page, { title: words().title, locale: at.locale, status, scripted: true })
  }
}

/** Where whoever shows a passkey once more goes on; empty where the form says nothing. */
function backIn({ body }: FastifyRequest): string {
  const back = textSent(body, 'back')
  return back && withinHere(back)
}

interface Sent {
  readonly sent: string
  readonly purpose: ChallengePurpose
  readonly personId: string | null
}

type Errors = Readonly<Record<string, string>>

interface Shown {
  readonly typed?: Typed
  readonly errors?: Errors
}
