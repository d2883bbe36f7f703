import { nameIfAny } from '../../lookups/unsaid.ts'
import { type FirstTable, firstTable } from '../matched/first-table.ts'
import type { TrialRecord } from '../record/trial-record.ts'
import type { Finding } from './findings.ts'
import { priceOfAnHour } from './price-of-an-hour.ts'
import { type Summary, summaryOf } from './summary.ts'

interface Asked {
  readonly referenceId: string
  readonly found: readonly Finding[]
  /** For how many pairs each method's interval is widened; for all beside the reference where it is not said. */
  readonly others?: readonly { readonly id: string; readonly comparisons: number }[]
  /** Made anew where it is not at hand. */
  readonly table?: FirstTable
}

/** The summary with the prices of an hour, of methods that were told to take less work. */
export function summaryOfRecord(
  record: TrialRecord,
  seasonIds: readonly string[],
  { referenceId, found, others, table = tableOf(record, seasonIds) }: Asked,
): Summary {
  const nameOf = (id: string) => nameIfAny(record.methods.find((one) => one.id === id))
  const given = { table, found, reference: nameOf(referenceId), seasons: seasonIds.length }
  const plain = summaryOf(given)
  const less = plain.measures.find((one) => one.measure === 'work')?.less ?? []
  if (less.length === 0) return plain
  const pairs = record.methods.filter((one) => one.id !== referenceId && found.some((own) => own.methodB === one.name))
  const prices = pairs.flatMap(({ id, name }) => {
    const level = 1 - 0.05 / (others?.find((one) => one.id === id)?.comparisons ?? pairs.length)
    const price = priceOfAnHour(record, seasonIds, { methodA: referenceId, methodB: id }, { level })
    return price.kind === 'refused' ? [] : [{ ...price, methodB: name }]
  })
  return summaryOf({ ...given, prices })
}

function tableOf(record: TrialRecord, seasonIds: readonly string[]): FirstTable {
  const [only] = seasonIds
  return firstTable(record, seasonIds.length === 1 && only !== undefined ? only : null)
}
