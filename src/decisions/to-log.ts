import { logAddress, type SaidForLog } from '../lookups/log-address.ts'
import { expectationHanded, type FigureHanded, figureTyped } from './figure-handed.ts'

/** What a page of Decide hands to the log. */
export interface HandedToLog extends SaidForLog {
  /** What the record can be held against once its season is closed. */
  readonly figure?: FigureHanded | null
}

/** Of a group, for its addresses and its money. */
interface Whose {
  readonly slug: string
  readonly currency: string
}

/** The log of decisions, its form open and filled with what a page worked out. */
export function toLog({ slug, currency }: Whose, { figure, ...said }: HandedToLog): string {
  return logAddress(slug, said, figure ? figureTyped(expectationHanded(figure), currency) : {})
}
