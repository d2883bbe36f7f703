/** What a page hands to the log of decisions: all of it stands in the form, and is kept as it was that day. */
export interface SaidForLog {
  readonly decision?: string
  readonly question: string
  /** The answer of the page. */
  readonly finding: string
  readonly assumptions?: readonly string[]
  /** Its address with every assumption in it. */
  readonly from: string
  readonly expected?: string
}

const most = { decision: 500, question: 300, finding: 500, expected: 500, assumptions: 3000, address: 2000 }

/** The log of decisions of a group, its form open and filled; `more` are further fields of it. */
export function logAddress(slug: string, said: SaidForLog, more: Readonly<Record<string, string>> = {}): string {
  const { decision, question, finding, expected, assumptions, from } = said
  const base = `/g/${slug}/`
  const query = new URLSearchParams({ form: 'decisions' })
  const address = from.startsWith(base) ? from.slice(base.length) : ''
  const texts = { decision, question, finding, expected, assumptions: assumptions?.join('\n') }
  for (const name of ['decision', 'question', 'finding', 'expected', 'assumptions'] as const) {
    const text = texts[name]
    if (text) query.set(name, text.slice(0, most[name]))
  }
  // An address that was cut would lead to other assumptions.
  if (address.length <= most.address) query.set('address', address)
  for (const [name, text] of Object.entries(more)) if (text) query.set(name, text)
  return `${base}decisions?${query.toString()}#add-decision`
}
