import { z } from 'zod'
import { recordOf } from '../lookups/keys.ts'
import { decimal, optionalDate, reading } from '../web/fields.ts'
import { wordsHere } from '../web/words-here.ts'
import { readDressing } from './dressing-amount.ts'

const amount = () => reading(readDressing, () => wordsHere().dressing.notAmount)
const litres = () => decimal({ least: 1, most: 5_000 })
const percent = () => decimal({ least: 1, most: 100 })

export const settlingKinds = ['compost', 'manure', 'mulch'] as const

/** An amount for each method, and what holds for all of them. */
export const dressingForm = (methodIds: readonly string[]) =>
  z.object({
    amounts: z.object(recordOf(methodIds, amount)),
    barrow: litres(),
    bag: litres(),
    wantedOn: optionalDate(),
    settles: z.object(recordOf(settlingKinds, percent)),
  })

/** The names of an address as the form has them: "amounts.<method>" is how an error names its field. */
export function dressingTyped(typed: Readonly<Record<string, string>>, methodIds: readonly string[]) {
  return {
    amounts: recordOf(methodIds, (id) => typed[`amounts.${id}`]),
    barrow: typed.barrow,
    bag: typed.bag,
    wantedOn: typed.wantedOn,
    settles: recordOf(settlingKinds, (kind) => typed[`settles.${kind}`]),
  }
}
