import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify'
import { constraintOf } from '../db/constraint.ts'
import type { Database } from '../db/database.ts'
import { personCookie, sessionCookieOf } from '../web/cookies.ts'
import { readForm, type Typed } from '../web/form.ts'
import { wordsHere } from '../web/words-here.ts'
import { type Mailing, tellingBy } from './letters.queries.ts'
import { groupsOf } from './members.queries.ts'
import { addressForm, deletionForm, endForm, nameForm, passwordForm } from './own-account.form.ts'
import { groupsSaid, presentMissing, sessionLines } from './own-account.page.ts'
import { changeAddress, deleteAccount, groupsKeptAlone, renamePerson } from './own-account.queries.ts'
import { passkeysOf, presenceOf } from './passkeys.queries.ts'
import { changePassword } from './passwords.queries.ts'
import { askingPresent, lackingFactor, personOf, tokenOf } from './present-password.routes.ts'
import { secondStepOf } from './second-step.queries.ts'
import { endOtherSessions, endSession, idleDays, sessionsOf } from './sessions.queries.ts'
import { welcoming } from './welcome.routes.ts'

const words = () => wordsHere().account
const config = { access: 'person' } as const
const proofFirst = `/account/proof?next=${encodeURIComponent('/account')}`

interface OwnAccountOptions {
  readonly secureCookies: boolean
  readonly mailing: Mailing | null
  readonly withPasskeys: boolean
}

/** A person's own account: name, address, password, sessions, and its end. */
export function ownAccountRoutes(
  app: FastifyInstance,
  database: Database,
  { secureCookies, mailing, withPasskeys }: OwnAccountOptions,
): void {
  const sessionCookie = sessionCookieOf(secureCookies)
  const welcome = welcoming(database, secureCookies)
  const tell = tellingBy(database, mailing)
  const isPresent = askingPresent(database, secureCookies)
  const isFactorLacking = lackingFactor(database, withPasskeys)
  const tokenHere = (request: FastifyRequest) => tokenOf(request, secureCookies)

  app.get('/account', { config }, (request, reply) => show(request, reply))

  app.post('/account/name', { config }, async (request, reply) => {
    const form = readForm(nameForm, request.body)
    if (form.kind === 'refused') return show(request, reply, form)
    await renamePerson(database, personOf(request).id, form.value.name)
    return reply.backTo('/account', words().nameSaved)
  })

  app.post('/account/address', { config }, async (request, reply) => {
    const form = readForm(addressForm, request.body)
    if (form.kind === 'refused') return show(request, reply, form)
    const { email, addressPassword } = form.value
    const refused = (errors: Errors) => show(request, reply, { typed: form.value, errors })
    if (!(await isPresent(request, addressPassword))) return refused({ addressPassword: words().wrong })
    try {
      await changeAddress(database, personOf(request).id, email)
    } catch (error) {
      if (constraintOf(error) !== 'people_email_is_taken') throw error
      return refused({ email: words().taken })
    }
    await tell(personOf(request).id, (letters) => letters.address(email), personOf(request).email)
    return reply.backTo('/account', words().addressSaved)
  })

  app.post('/account/password', { config }, async (request, reply) => {
    const { id, email, name } = personOf(request)
    const form = readForm(passwordForm({ name, email }), request.body)
    if (form.kind === 'refused') return show(request, reply, form)
    if (!(await isPresent(request, form.value.presentPassword))) {
      return show(request, reply, { typed: {}, errors: { presentPassword: words().wrong } })
    }
    await changePassword(database, id, form.value.newPassword)
    await tell(id, (letters) => letters.password)
    const { factorShown } = request
    const notice = words().passwordSaved
    return welcome(request, reply, { personId: id, email, factorShown, to: '/account', notice })
  })

  app.post('/account/sessions', { config }, async (request, reply) => {
    const form = readForm(endForm, request.body)
    if (form.kind === 'refused') return reply.backTo('/account')
    if (!(await isPresent(request, form.value.endPassword))) {
      return show(request, reply, { errors: { endPassword: words().wrong } })
    }
    const { id } = personOf(request)
    if (form.value.session === 'others') await endOtherSessions(database, id, tokenHere(request))
    else await endSession(database, id, form.value.session)
    return reply.backTo('/account', words().ended)
  })

  app.post('/account/deletion', { config }, async (request, reply) => {
    const form = readForm(deletionForm, request.body)
    if (form.kind === 'refused') return show(request, reply, form)
    // What a stolen password opens is not what it may end for good.
    if (await isFactorLacking(request)) return reply.backTo(proofFirst)
    const refused = (message: string) => show(request, reply, { typed: {}, errors: { deletionPassword: message } })
    if (!(await isPresent(request, form.value.deletionPassword))) return refused(words().wrong)
    try {
      await deleteAccount(database, personOf(request).id)
    } catch (error) {
      if (constraintOf(error) !== 'group_keeps_a_keeper') throw error
      const names = await groupsKeptAlone(database, personOf(request).id)
      return show(request, reply, { errors: { id: words().keptAlone(names.join(', ')) }, status: 409 })
    }
    void reply.clearCookie(personCookie, { path: '/' })
    return reply.clearCookie(sessionCookie, { path: '/', secure: secureCookies }).backTo('/', words().deleted)
  })

  async function show(request: FastifyRequest, reply: FastifyReply, { typed, errors, status }: Shown = {}) {
    const person = personOf(request)
    const [group] = await groupsOf(database, person.id)
    const at = { locale: group?.locale ?? 'en', timeZone: group?.timeZone ?? null }
    const keptAlone = await groupsKeptAlone(database, person.id)
    const { isOn } = await secondStepOf(database, person.id)
    const passkeys = await passkeysOf(database, person.id)
    const presence = await presenceOf(database, person.id, tokenHere(request))
    const page = {
      person,
      idleDays,
      withCodes: isOn,
      proofFirst: (await isFactorLacking(request)) ? proofFirst : null,
      presence,
      passkeys:
        passkeys.length > 0
          ? groupsSaid(
              passkeys.map((one) => one.name),
              at.locale,
            )
          : null,
      typed: typed ?? {},
      errors: presentMissing(errors ?? {}, presence),
      sessions: sessionLines(await sessionsOf(database, person.id, tokenHere(request)), at),
      keptAlone: keptAlone.length > 0 ? groupsSaid(keptAlone, at.locale) : null,
    }
    const options = { title: words().title, locale: at.locale, status: status ?? (errors ? 422 : 200), scripted: true }
    return reply.page('accounts/account', page, options)
  }
}

type Errors = Readonly<Record<string, string>>

interface Shown {
  readonly typed?: Typed
  readonly errors?: Errors
  readonly status?: number
}
