import type { FastifyInstance, FastifyRequest } from 'fastify'
import type { z } from 'zod'
import { amend, ofTable, rowOf } from '../db/amend.ts'
import type { Tx } from '../db/database.ts'
import { asShown } from '../lookups/unsaid.ts'
import { moneyAsTyped, weightAsTyped } from '../quantities/as-typed.ts'
import { formatDay, formatMoney } from '../quantities/formatting.ts'
import { decimalsOf } from '../quantities/money.ts'
import { type Correctable, choicesOf, correcting, reasonGiven, stillUsed } from '../web/correcting.ts'
import { wordsHere } from '../web/words-here.ts'
import { closedSeasonRests, cropPricesOf, savePrice } from './crop-prices.queries.ts'
import { type PriceFrom, priceAtLast, priceChange } from './crop-prices.ts'
import { cropForm, seasonCorrection } from './seasons.form.ts'
import { crops, seasons } from './seasons.table.ts'

const words = () => wordsHere().seasons
const f = () => words().fields
const at = (request: FastifyRequest, path: string) => `/g/${request.member.group.slug}/${path}`

const season: Correctable<typeof seasons.$inferSelect, object> = {
  ...ofTable(seasons),
  kind: 'seasons',
  access: 'keeper',
  title: (row) => row.name,
  fields: (row) => [
    { name: 'name', label: f().name, value: row.name },
    { name: 'startsOn', label: f().from, type: 'date', value: row.startsOn },
    { name: 'endsOn', label: f().to, type: 'date', value: row.endsOn },
    {
      name: 'isUniformYear',
      label: f().uniform,
      value: row.isUniformYear ? 'yes' : 'no',
      options: choicesOf(words().yesOrNo),
    },
  ],
  form: () => seasonCorrection,
  closed: async (_tx, row) => row.closedAt !== null,
  constraints: {
    seasons_do_not_overlap: {
      get startsOn() {
        return words().overlap
      },
    },
    seasons_name_is_taken: {
      get name() {
        return wordsHere().gardens.nameTaken
      },
    },
    ...stillUsed,
  },
  back: (row, request) => at(request, `seasons/${row.id}`),
}

const cropCorrected = (restated: Restated): Correctable<CropRow, CropGiven> => ({
  ...ofTable(crops),
  kind: 'crops',
  access: 'keeper',
  find: async (tx, groupId, id) => {
    const row = await rowOf(tx, crops, groupId, id)
    return row && { ...row, prices: (await cropPricesOf(tx, groupId)).get(id) ?? [] }
  },
  title: (row) => row.name,
  fields: (row, request) => {
    const { currency, weightUnit } = request.member.group
    const { minorPerKg: price, from } = priceAtLast(row.prices)
    return [
      { name: 'name', label: f().cropName, value: row.name },
      { name: 'family', label: f().family, value: asShown(row.family) },
      {
        name: 'priceMinorPerKg',
        label: f().price(currency),
        value: price === null ? '' : moneyAsTyped(price, decimalsOf(currency)),
      },
      { name: 'pricedFrom', label: f().pricedFrom, hint: f().pricedFromHint, type: 'date', value: asShown(from) },
      {
        name: 'askAboveGPerM2',
        label: f().askAbove,
        hint: f().askAboveHint,
        value: row.askAboveGPerM2 === null ? '' : weightAsTyped(row.askAboveGPerM2, weightUnit),
      },
      {
        name: 'touchesSoil',
        label: f().touchesSoil,
        hint: f().touchesSoilHint,
        value: row.touchesSoil === null ? '' : row.touchesSoil ? 'yes' : 'no',
        options: [{ value: '', label: words().soilNotKnown }, ...choicesOf(words().yesOrNo)],
      },
      {
        name: 'weighedAs',
        label: f().weighedAs,
        hint: f().weighedAsHint,
        value: asShown(row.weighedAs),
        options: [{ value: '', label: words().weighedFresh }, ...choicesOf(words().weighedStates)],
      },
      {
        name: 'regrows',
        label: f().regrows,
        value: row.regrows ? 'yes' : 'no',
        options: choicesOf(words().yesOrNo),
      },
      {
        name: 'countsWhenPicked',
        label: f().countsWhen,
        hint: f().countsWhenHint,
        value: row.countsWhenPicked ? 'picked' : 'planted',
        options: choicesOf(words().countsFor),
      },
      { name: 'source', label: f().source, value: asShown(row.source) },
    ]
  },
  form: (request) => cropForm(request.member.group.currency, request.member.group.weightUnit),
  constraints: {
    crops_name_is_taken: {
      get name() {
        return wordsHere().gardens.nameTaken
      },
    },
    ...stillUsed,
  },
  correct: async (tx, { seen, row, given, request }) => {
    const { priceMinorPerKg: minorPerKg, pricedFrom: from, ...rest } = given
    const { personId: createdBy, group } = request.member
    const change = priceChange(row.prices, { from, minorPerKg })
    const moves = change && (await closedSeasonRests(tx, { groupId: group.id, cropId: row.id, ...change }))
    if (moves && reasonGiven(request) === null) return { closedReason: words().priceOfClosed }
    const isWritten = await amend(tx, crops, seen, rest)
    if (isWritten && given.weighedAs !== row.weighedAs) await restated(tx, seen.groupId, seen.id)
    if (isWritten && change) await savePrice(tx, { groupId: group.id, createdBy }, { cropId: row.id, ...change })
    return isWritten
  },
  rests: (row, _typed, request) => pricesTable(row.prices, request),
  back: (_row, request) => at(request, 'crops'),
})

type CropRow = typeof crops.$inferSelect & { readonly prices: readonly PriceFrom[] }
type CropGiven = z.output<ReturnType<typeof cropForm>>

/** Null where a crop has had one price, or none, all along. */
function pricesTable(prices: readonly PriceFrom[], request: FastifyRequest) {
  if (prices.length < 2) return undefined
  const { locale, currency } = request.member.group
  const { prices: w } = words()
  return {
    caption: w.caption,
    head: [{ name: w.from }, { name: w.price, figure: true }],
    rows: prices.map(({ from, minorPerKg }) => [
      from === null ? w.beginning : formatDay(from, locale),
      minorPerKg === null ? w.none : formatMoney(minorPerKg, locale, currency),
    ]),
  }
}

/** What counts of weights that were written before another state of a crop did: of a chapter above this one. */
type Restated = (tx: Tx, groupId: string, cropId: string) => Promise<void>

export function seasonCorrections(app: FastifyInstance, { restated }: { readonly restated: Restated }): void {
  correcting(app, season)
  correcting(app, cropCorrected(restated))
}
