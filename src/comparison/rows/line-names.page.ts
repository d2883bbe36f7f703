import { recordOf } from '../../lookups/keys.ts'
import { asShown, linkOf } from '../../lookups/unsaid.ts'
import { byName } from '../../words/by-name.ts'
import type { Words } from '../../words/catalogue.ts'
import { figureKeys, type MeasureKey, measureKeys } from '../totals/figures.ts'
import type { RowsWanted } from './rows-behind.ts'
import type { LineKey } from './rows-figures.ts'

/**
 * What each line of sums is called, in the words of a reader; a crop, a task or a cause by what the rows are kept to.
 */
export function lineNames(
  words: Words,
  { task, cause }: RowsWanted,
  currency: string,
): Readonly<Record<LineKey, string>> {
  const { names, counted } = words.measures
  const { figures } = words.rowsBehind
  const { failedRow, standingRow, plantedRow, labourAll, labourEstablishing } = words.findings
  const named = recordOf(figureKeys, (key) => names[key](currency))
  const ruled = Object.fromEntries(measureKeys.map((key) => [`counted.${key}`, counted[key](currency)]))
  return {
    ...named,
    ...(ruled as Record<`counted.${MeasureKey}`, string>),
    'ofCrop.kgPerM2': words.comparison.otherwise.kgPerM2,
    'ofCrop.matched': figures.matched,
    'ofCrop.hoursPerKg': counted.hoursPerKg(currency),
    'ofCrop.costPerKg': counted.costPerKg(currency),
    intensity: figures.intensity,
    commonCrops: figures.commonCrops,
    causeCount: figures.causeCount,
    cause: asShown(byName(words.diary.causes)[linkOf(cause)] ?? cause),
    task: asShown(byName(words.diary.tasks)[linkOf(task)] ?? task),
    labourAll,
    labourEstablishing,
    failedRow,
    standingRow,
    plantedRow,
    ...words.comparison.coverage,
  }
}
