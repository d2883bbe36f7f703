import type { FastifyInstance } from 'fastify'
import { isOneOf } from '../lookups/keys.ts'
import { logAddress } from '../lookups/log-address.ts'
import { dayIn } from '../quantities/dates.ts'
import { readForm } from '../web/form.ts'
import { queryOf, textAsked } from '../web/query-of.ts'
import { wordsHere } from '../web/words-here.ts'
import { nutrientLedgerPage } from './ledger.page.ts'
import { ledgerRows } from './ledger.queries.ts'
import { limitsLookedAt } from './limits.form.ts'
import { spreadingLimitsOf } from './limits.queries.ts'
import { limitNames } from './limits.ts'
import { limitsLookedOver, limitsTyped } from './limits-looked-at.ts'
import { nutrientNames } from './nutrients.ts'

/** What all seasons' inputs carried less what their harvests took away, garden by garden, one nutrient at a time. */
export function nutrientLedgerRoutes(app: FastifyInstance): void {
  app.get('/g/:group/soil/balance', { config: { access: 'reader' } }, async (request, reply) => {
    const { group, role } = request.member
    const words = wordsHere().ledger
    const named = textAsked(request, 'nutrient')
    const nutrient = isOneOf(nutrientNames, named) ? named : 'phosphorus'
    const asked = queryOf(request)
    const { rows, kept } = await request.read(async (tx) => ({
      rows: await ledgerRows(tx, group.id),
      kept: await spreadingLimitsOf(tx, group.id),
    }))
    const day = dayIn(group.timeZone, new Date())
    const isTyped = ([, value]: readonly [string, unknown]) => typeof value === 'string'
    const over = limitNames.map(({ name }) => [name, asked[name]] as const).filter(isTyped)
    const looked = Object.fromEntries(over.map(([name, value]) => [name, String(value).slice(0, 20)]))
    const typed: Readonly<Record<string, string>> = { ...Object.fromEntries(limitsTyped(kept, day)), ...looked }
    const form = readForm(limitsLookedAt, typed)
    const query = (one: string) => new URLSearchParams({ ...looked, nutrient: one }).toString()
    const shown = nutrientLedgerPage(rows, nutrient, {
      limits: form.kind === 'refused' ? null : limitsLookedOver({ kept, day, typed: form.value }),
      locale: group.locale,
    })
    const page = {
      nutrient,
      choices: nutrientNames.map((one) => ({
        key: one,
        address: `/g/${group.slug}/soil/balance?${query(one)}`,
        current: one === nutrient,
      })),
      fields: limitNames.map(({ name, source, nutrient: of }) => ({
        name,
        label: words.limitOf(wordsHere().limits.sources[source], words.nutrients[of]),
        value: typed[name],
        error: form.kind === 'refused' ? form.errors[name] : undefined,
      })),
      errors: form.kind === 'refused' ? form.errors : {},
      shown,
      logAddress:
        shown && role === 'keeper'
          ? logAddress(group.slug, {
              question: words.title,
              finding: shown.answer,
              assumptions: [...shown.over, ...shown.sure],
              from: request.url,
            })
          : null,
    }
    return reply.page('soil/balance', page, { title: words.title, status: form.kind === 'refused' ? 422 : 200 })
  })
}
