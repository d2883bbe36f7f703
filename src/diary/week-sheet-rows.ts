import type { ManureWait, PickedTooSoon } from '../inputs/manure-interval.ts'
import type { IsoDate } from '../quantities/dates.ts'
import type { IsoWeek } from '../quantities/iso-week.ts'
import type { Called } from '../seasons/planting-names.ts'
import type { Words } from '../words/catalogue.ts'
import type { Known } from './known.ts'

/** What the sheet of a week is made from. */
export interface Weighed {
  readonly id: string
  readonly plantingId: string | null
  readonly harvestedOn: IsoDate
  readonly marketableG: number
  readonly unmarketableG: number
  /** The part that a planting has of a crate from several. */
  readonly ofCrate?: boolean
}

export interface WorkedBefore {
  readonly id: string
  readonly gardenId: string | null
  readonly bedId: string | null
  readonly plantingId: string | null
  /** The beds that it was done on, where they are several of one garden. */
  readonly overBeds: readonly string[]
  readonly task: string
  /** Null where its ground carries several phases. */
  readonly phase: string | null
  readonly personMinutes: number
}

interface LostRow {
  readonly id: string
  readonly plantingId: string
  readonly lostOn: IsoDate
  readonly sharePermille: number
  readonly cause: string
}

export interface PlantingOfSheet extends Called {
  readonly matchedSetId: string | null
  readonly standsUntil: IsoDate | null
}

export interface SheetRows {
  readonly week: IsoWeek
  readonly locale: string
  readonly words: Words
  readonly known: Known
  readonly gardens: readonly { readonly id: string; readonly name: string }[]
  readonly beds: readonly { readonly id: string; readonly gardenId: string; readonly name: string }[]
  /** The method of a bed of its own, or of a garden, in the season of the week; by the id of bed or garden. */
  readonly methodOf: ReadonlyMap<string, { readonly id: string; readonly name: string }>
  readonly plantings: readonly PlantingOfSheet[]
  readonly harvests: readonly Weighed[]
  readonly labour: readonly WorkedBefore[]
  readonly losses: readonly LostRow[]
  /** What is wholly lost, in whatever week. */
  readonly gone: readonly LostRow[]
  readonly lastWeek: { readonly harvests: readonly Weighed[]; readonly labour: readonly WorkedBefore[] }
  readonly sealedBefore: ReadonlyMap<string, string>
  /** What was closed in the week before: "weights <garden>". */
  readonly closedBefore: ReadonlySet<string>
  readonly picked: ReadonlyMap<string, string>
  /** Cleared, and their weight is still to come. */
  readonly stillToWeigh: ReadonlySet<string>
  readonly waits: readonly ManureWait[]
  readonly tooSoon: readonly PickedTooSoon[]
  readonly keeperCloses: ReadonlySet<string>
  /** What is looked for among all that stands; blank for nothing. */
  readonly find: string
  /** Plantings whose rows are shown though nothing speaks for them: something was typed there. */
  readonly typedIn: ReadonlySet<string>
  /** All that stands, whether it is due or not. */
  readonly whole: boolean
  /** As it is printed, and typed from paper: every task in its place too, whatever was written since. */
  readonly onPaper: boolean
}
