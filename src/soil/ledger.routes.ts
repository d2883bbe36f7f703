import type { FastifyInstance } from 'fastify'
import { isOneOf } from '../lookups/keys.ts'
import { readForm } from '../web/form.ts'
import { queryOf, textAsked } from '../web/query-of.ts'
import { wordsHere } from '../web/words-here.ts'
import { limitNames, limitsForm, limitsToBeginWith } from './ledger.form.ts'
import { nutrientLedgerPage } from './ledger.page.ts'
import { ledgerRows } from './ledger.queries.ts'
import { nutrientNames } from './nutrients.ts'

/** What all seasons' inputs carried less what their harvests took away, garden by garden, one nutrient at a time. */
export function nutrientLedgerRoutes(app: FastifyInstance): void {
  app.get('/g/:group/soil/balance', { config: { access: 'reader' } }, async (request, reply) => {
    const { group } = request.member
    const words = wordsHere().ledger
    const named = textAsked(request, 'nutrient')
    const nutrient = isOneOf(nutrientNames, named) ? named : 'phosphorus'
    const asked = queryOf(request)
    const typed = Object.fromEntries(
      Object.entries(limitsToBeginWith).map(([name, start]) => {
        const value = asked[name]
        return [name, typeof value === 'string' ? value.slice(0, 20) : start]
      }),
    )
    const form = readForm(limitsForm, typed)
    const rows = await request.read((tx) => ledgerRows(tx, group.id))
    const query = (one: string) => new URLSearchParams({ ...typed, nutrient: one }).toString()
    const page = {
      nutrient,
      choices: nutrientNames.map((one) => ({
        key: one,
        address: `/g/${group.slug}/soil/balance?${query(one)}`,
        current: one === nutrient,
      })),
      fields: limitNames.map(({ name, source, nutrient: of }) => ({
        name,
        label: words.limitOf(words.sourceKinds[source], words.nutrients[of]),
        value: typed[name],
        error: form.kind === 'refused' ? form.errors[name] : undefined,
      })),
      errors: form.kind === 'refused' ? form.errors : {},
      shown: nutrientLedgerPage(rows, nutrient, {
        limits: form.kind === 'refused' ? null : form.value,
        locale: group.locale,
      }),
    }
    return reply.page('soil/balance', page, { title: words.title, status: form.kind === 'refused' ? 422 : 200 })
  })
}
