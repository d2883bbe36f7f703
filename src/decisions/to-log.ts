import { expectationHanded, type FigureHanded, figureTyped } from './figure-handed.ts'

/** What a page of Decide hands to the log: all of it stands in the form, and is kept as it was that day. */
export interface HandedToLog {
  readonly decision?: string
  readonly question: string
  /** The answer of the page. */
  readonly finding: string
  readonly assumptions?: readonly string[]
  /** Its address with every assumption in it. */
  readonly from: string
  readonly expected?: string
  /** What the record can be held against once its season is closed. */
  readonly figure?: FigureHanded | null
}

/** Of a group, for its addresses and its money. */
interface Whose {
  readonly slug: string
  readonly currency: string
}

const most = { decision: 500, question: 300, finding: 500, expected: 500, assumptions: 3000, address: 2000 }

/** The log of decisions, its form open and filled with what a page worked out. */
export function toLog({ slug, currency }: Whose, handed: HandedToLog): string {
  const { decision, question, finding, expected, assumptions, from, figure } = handed
  const base = `/g/${slug}/`
  const query = new URLSearchParams({ form: 'decisions' })
  const address = from.startsWith(base) ? from.slice(base.length) : ''
  const said = { decision, question, finding, expected, assumptions: assumptions?.join('\n') }
  for (const name of ['decision', 'question', 'finding', 'expected', 'assumptions'] as const) {
    const text = said[name]
    if (text) query.set(name, text.slice(0, most[name]))
  }
  // An address that was cut would lead to other assumptions.
  if (address.length <= most.address) query.set('address', address)
  const typed = figure ? figureTyped(expectationHanded(figure), currency) : {}
  for (const [name, text] of Object.entries(typed)) if (text) query.set(name, text)
  return `${base}decisions?${query.toString()}#add-decision`
}
