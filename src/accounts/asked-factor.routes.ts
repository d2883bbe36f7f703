import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify'
import { constraintOf } from '../db/constraint.ts'
import type { Database } from '../db/database.ts'
import { readForm } from '../web/form.ts'
import { Problem } from '../web/problem.ts'
import { wordsHere } from '../web/words-here.ts'
import { askFactorForm } from './accounts.form.ts'
import { membersTouched } from './endings.queries.ts'
import { askFactor, factorsOf } from './factors.queries.ts'
import { type Mailing, tellingBy } from './letters.queries.ts'
import { groupsOf } from './members.queries.ts'
import { nextIn, onward } from './next-in.routes.ts'
import { codeForm } from './own-account.form.ts'
import { countCode, personOf } from './present-password.routes.ts'
import { takeCode } from './second-step.queries.ts'
import { raising } from './welcome.routes.ts'
import { withinHere } from './within-here.ts'

interface AskedOptions {
  readonly secureCookies: boolean
  readonly mailing: Mailing | null
  /** Whether a passkey can be shown here. */
  readonly withPasskeys: boolean
}

/** A group that opens only to who has shown more than a password: its keepers ask for it, its members show it. */
export function askedFactorRoutes(
  app: FastifyInstance,
  database: Database,
  { secureCookies, mailing, withPasskeys: mayAddPasskey }: AskedOptions,
): void {
  const tell = tellingBy(database, mailing)
  const raise = raising(database, secureCookies)
  const config = { access: 'person' } as const

  app.post('/g/:group/people/second-factor', { config: { access: 'keeper' } }, async (request, reply) => {
    const { group } = request.member
    const here = `/g/${group.slug}/people`
    // Whoever has not shown theirs would keep themselves out.
    if (!request.factorShown) return reply.backTo(`/account/proof${onward(here)}`)
    const form = readForm(askFactorForm, request.body)
    if (form.kind === 'refused') return reply.backTo(here)
    const asks = form.value.asks === 'yes'
    const touched = await saved(request, asks)
    for (const { id } of touched)
      await tell(id, (letters) => (asks ? letters.factorAsked(group.name) : letters.factorNoMore(group.name)))
    return reply.backTo(here, asks ? wordsHere().people.factorAsked : wordsHere().people.factorNoMore, null)
  })

  app.get('/account/proof', { config }, (request, reply) => show(request, reply))

  app.post('/account/proof', { config }, async (request, reply) => {
    const { id } = personOf(request)
    const form = readForm(codeForm, request.body)
    if (form.kind === 'refused') return show(request, reply, form.errors)
    await countCode(database, request, id)
    if (!(await takeCode(database, id, form.value.code, new Date()))) {
      return show(request, reply, { code: wordsHere().account.codes.wrong })
    }
    await raise(request, reply)
    return reply.redirect(withinHere(nextIn(request)), 303)
  })

  async function show(request: FastifyRequest, reply: FastifyReply, errors: Readonly<Record<string, string>> = {}) {
    const { id } = personOf(request)
    const next = withinHere(nextIn(request))
    if (request.factorShown) return reply.redirect(next, 303)
    const groups = await groupsOf(database, id)
    const asking = groups.find(({ slug, asksFactor }) => asksFactor === 1 && `${next}/`.startsWith(`/g/${slug}/`))
    const { withCodes, withPasskeys } = await factorsOf(database, id, mayAddPasskey)
    const page = { group: asking?.name ?? null, next, withCodes, withPasskeys, mayAddPasskey, errors }
    const locale = (asking ?? groups[0])?.locale ?? 'en'
    const status = Object.keys(errors).length > 0 ? 422 : 200
    return reply.page('accounts/proof', page, {
      title: wordsHere().account.proof.title,
      locale,
      status,
      scripted: true,
    })
  }
}

/** Whom it touches: nobody where it was so already. */
async function saved(request: FastifyRequest, asks: boolean): Promise<readonly { id: string }[]> {
  const { id } = request.member.group
  try {
    return await request.write(async (tx) => ((await askFactor(tx, id, asks)) ? membersTouched(tx, id) : []))
  } catch (error) {
    if (constraintOf(error) === 'factors_are_asked_by_keepers') throw new Problem('keepers-only')
    throw error
  }
}
