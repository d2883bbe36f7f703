import { z } from 'zod'
import { recordOf } from '../lookups/keys.ts'
import { decimal, optional } from '../web/fields.ts'
import { sourceKinds } from './ledger.ts'

const limitedNutrients = ['nitrogen', 'phosphorus'] as const

export const limitNames = sourceKinds.flatMap((source) =>
  limitedNutrients.map((nutrient) => ({ name: `${source}-${nutrient}`, source, nutrient })),
)

/** Of livestock manure: Directive 91/676/EEC, annex III. What is typed takes its place. */
export const limitsToBeginWith: Readonly<Record<string, string>> = {
  ...Object.fromEntries(limitNames.map(({ name }) => [name, ''])),
  'manure-nitrogen': '170',
}

const limit = () => optional(decimal({ least: 0, most: 10_000 }))

export const limitsForm = z
  .object(
    recordOf(
      limitNames.map(({ name }) => name),
      limit,
    ),
  )
  .transform((typed) =>
    recordOf(sourceKinds, (source) => recordOf(limitedNutrients, (nutrient) => typed[`${source}-${nutrient}`] ?? null)),
  )
