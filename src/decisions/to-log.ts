interface Handed {
  readonly decision?: string
  /** The answer of the page, and its address with every assumption in it. */
  readonly finding: string
  readonly from: string
  readonly expected?: string
}

const most = 500

/** The log of decisions, its form open and filled with what a page worked out. */
export function toLog(slug: string, { decision, finding, from, expected }: Handed): string {
  const address = ` (${from})`
  // The answer gives way, so that the address stays whole as long as it can.
  const whole = `${finding.slice(0, Math.max(0, most - address.length))}${address}`.slice(0, most)
  const query = new URLSearchParams({ form: 'decisions' })
  for (const [name, text] of Object.entries({ decision, finding: whole, expected })) if (text) query.set(name, text)
  return `/g/${slug}/decisions?${query.toString()}#add-decision`
}
