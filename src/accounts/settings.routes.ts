import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify'
import type { Database, Tx } from '../db/database.ts'
import { sent } from '../lookups/unsaid.ts'
import { moneyAsTyped } from '../quantities/as-typed.ts'
import { decimalsOf } from '../quantities/money.ts'
import { readForm, type Typed } from '../web/form.ts'
import { notFound } from '../web/problem.ts'
import { fieldsOf } from '../web/query-of.ts'
import { wordsHere } from '../web/words-here.ts'
import { settingsForm } from './accounts.form.ts'
import { settingChoices } from './group-choices.page.ts'
import { groupAsItStands, saveGroup } from './members.queries.ts'
import { bothVersions } from './settings.page.ts'

const words = () => wordsHere().accounts.group

interface SettingsOptions {
  /** Whether any amount of money stands in the group's record. */
  readonly moneyWritten: (tx: Tx, groupId: string) => Promise<boolean>
}

/** The settings of a group. The second of two keepers who save is told, and sees both versions. */
export function settingsRoutes(app: FastifyInstance, database: Database, { moneyWritten }: SettingsOptions): void {
  app.get('/g/:group/settings', { config: { access: 'reader' } }, (request, reply) => show(request, reply, {}))

  app.post('/g/:group/settings', { config: { access: 'keeper' } }, async (request, reply) => {
    const typed = fieldsOf(request.body)
    const form = readForm(settingsForm(currencyTyped(request, typed)), typed)
    if (form.kind === 'refused') return show(request, reply, { typed, errors: form.errors, status: 422 })
    const { version, ...given } = form.value
    const { id, slug } = request.member.group
    const answer = await request.write(async (tx) => {
      const stands = await groupAsItStands(tx, id)
      if (given.currency !== stands?.currency && (await moneyWritten(tx, id))) return words().moneyStands
      return saveGroup(tx, { id, version }, given)
    })
    if (answer === true) return reply.backTo(`/g/${slug}/settings`, words().saved)
    if (answer === false) return show(request, reply, { typed, meanwhile: true, status: 409 })
    return show(request, reply, { typed, errors: { currency: answer }, status: 422 })
  })

  async function show(request: FastifyRequest, reply: FastifyReply, shown: Shown) {
    const { group, role } = request.member
    const stands = await request.read((tx) => groupAsItStands(tx, group.id))
    if (!stands) throw notFound()
    const page = {
      typed: { ...asTyped(stands), ...shown.typed },
      version: stands.version,
      choices: settingChoices('en', stands),
      errors: shown.errors ?? {},
      both: shown.meanwhile ? bothVersions(asTyped(stands), shown.typed ?? {}) : null,
      engine: database.kind,
      mayChange: role === 'keeper',
    }
    return reply.page('accounts/settings', page, { title: words().settingsTitle, status: shown.status ?? 200 })
  }
}

/**
 * An amount is read in the currency that stands beside it in the form; one that is not known is refused at its own
 * field.
 */
function currencyTyped({ member }: FastifyRequest, { currency }: Typed): string {
  const code = sent(currency).trim().toUpperCase()
  return Intl.supportedValuesOf('currency').includes(code) ? code : member.group.currency
}

/** The settings as a form shows them. */
function asTyped({
  labourRateMinorPerHour: rate,
  ...stands
}: NonNullable<Awaited<ReturnType<typeof groupAsItStands>>>) {
  return { ...stands, labourRateMinorPerHour: rate === null ? '' : moneyAsTyped(rate, decimalsOf(stands.currency)) }
}

interface Shown {
  readonly typed?: Typed
  readonly errors?: Record<string, string>
  readonly meanwhile?: boolean
  readonly status?: number
}
