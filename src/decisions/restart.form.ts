import { z } from 'zod'
import { recordOf } from '../lookups/keys.ts'
import type { AreaUnit } from '../quantities/areas.ts'
import { area, decimal, labourOrNone, money, optional } from '../web/fields.ts'
import { wordsHere } from '../web/words-here.ts'
import type { Worth } from './restart.ts'
import { type Assumptions, assumedKeys } from './restart-chances.ts'

const words = () => wordsHere().deciding.restart
export const ends = ['low', 'middle', 'high'] as const
type End = (typeof ends)[number]
type Key = (typeof assumedKeys)[number]

/** The name of a field: one figure's low, middle or high. */
export const fieldOf = (key: Key, end: End) => `${key}-${end}` as const

const percent = () => decimal({ least: 0, most: 100 }).transform((value) => value / 100)
const kilograms = () => decimal({ least: 0, most: 1_000_000 }).transform((value) => value * 1000)

const readers: Record<Key, () => z.ZodType<number, unknown>> = {
  covered: () => decimal({ least: 0.25, most: 10 }),
  coverMinutes: labourOrNone,
  hoeMinutes: labourOrNone,
  falls: percent,
  lostToWeed: percent,
  comesBack: percent,
  ownG: kilograms,
  ownMinutes: labourOrNone,
  transplantMinutes: labourOrNone,
  transplantLost: percent,
}

/** How many times the cover, the harvest or the hours of a bed a person may look ahead. */
const mostSeasons = 20

interface Group {
  readonly currency: string
  readonly areaUnit: AreaUnit
}

/** How much of the bed or garden would be covered; blank is all of it. */
export const groundForm = ({ areaUnit }: Pick<Group, 'areaUnit'>) => z.object({ area: optional(area(areaUnit)) })

/**
 * Strings of the address to what is assumed; a low above its middle, or a middle above its high, is refused at its row.
 */
export const restartForm = ({ currency }: Pick<Group, 'currency'>) =>
  z
    .object({
      seasons: decimal({ least: 1, most: mostSeasons }),
      wage: optional(money(currency)),
      pricePerKg: optional(money(currency)),
      materials: optional(money(currency)),
      ...Object.fromEntries(assumedKeys.flatMap((key) => ends.map((end) => [fieldOf(key, end), readers[key]()]))),
    })
    .superRefine((given, context) => {
      for (const key of assumedKeys) {
        const { low, middle, high } = spreadOf(given, key)
        const wrong = low > middle ? 'low' : middle > high ? 'high' : null
        if (wrong) context.addIssue({ code: 'custom', path: [fieldOf(key, wrong)], message: words().upsideDown })
      }
    })
    .transform((given) => {
      const assumptions = recordOf(assumedKeys, (key) => spreadOf(given, key))
      return {
        seasons: given.seasons,
        assumptions,
        worth: worthOf(given, assumptions),
        left: leftOut(given),
      }
    })

type Given = Readonly<Record<string, unknown>> & {
  readonly wage: number | null
  readonly pricePerKg: number | null
  readonly materials: number | null
}

function spreadOf(given: Readonly<Record<string, unknown>>, key: Key) {
  const at = (end: End) => given[fieldOf(key, end)] as number
  return { low: at('low'), middle: at('middle'), high: at('high') }
}

function worthOf({ wage, pricePerKg, materials }: Given, { ownG, ownMinutes }: Assumptions): Worth {
  if (wage !== null && pricePerKg !== null) {
    // Materials that nobody typed are not bought.
    return { kind: 'money', wageMinorPerHour: wage, priceMinorPerKg: pricePerKg, materialsMinor: materials ?? 0 }
  }
  return { kind: 'hours', minutesPerKg: ownG.middle > 0 ? (1000 * ownMinutes.middle) / ownG.middle : null }
}

/** What was not typed and therefore is in no figure: money needs both a wage and a price. */
function leftOut({ wage, pricePerKg, materials }: Given): ('wage' | 'pricePerKg' | 'materials')[] {
  const missing = { wage, pricePerKg, materials }
  return (['wage', 'pricePerKg', 'materials'] as const).filter((name) => missing[name] === null)
}
