/** Sentences by their English: for those that reach a page whole, such as what a field says or a notice. */
export interface Phrasebook {
  readonly sentences: ReadonlyMap<string, string>
  readonly patterns: readonly { readonly english: RegExp; readonly say: (given: readonly string[]) => string }[]
}

type Saying = (...given: string[]) => unknown

/** Pairs the leaves of two trees of words; a sentence with blanks becomes a pattern where it only sets its blanks in. */
export function phrasebook(english: unknown, own: unknown): Phrasebook {
  const sentences = new Map<string, string>()
  const patterns: { english: RegExp; say: (given: readonly string[]) => string }[] = []
  const pair = (from: unknown, to: unknown): void => {
    if (typeof from === 'string' && typeof to === 'string') sentences.set(from, to)
    else if (typeof from === 'function' && typeof to === 'function') {
      const pattern = patternOf(from as Saying)
      if (pattern) patterns.push({ ...pattern, say: (given) => String((to as Saying)(...pattern.inOrder(given))) })
    } else if (isTree(from) && isTree(to)) for (const key of Object.keys(to)) pair(from[key], to[key])
  }
  pair(english, own)
  return { sentences, patterns }
}

export function sayWith({ sentences, patterns }: Phrasebook, sentence: string): string {
  const known = sentences.get(sentence)
  if (known !== undefined) return known
  for (const { english, say } of patterns) {
    const found = english.exec(sentence)
    if (found) return say(found.slice(1))
  }
  return sentence
}

const isTree = (value: unknown): value is Record<string, unknown> => typeof value === 'object' && value !== null

const blank = (place: number) => `\u27e6${place}\u27e7`

/** Undefined where a blank is reckoned with rather than set in, or where little but blanks would be left to know it by. */
function patternOf(say: Saying) {
  const said = saidWithBlanks(say)
  if (said === undefined) return undefined
  const parts = said.split(/\u27e6(\d+)\u27e7/)
  const order = parts.filter((_, i) => i % 2 === 1).map(Number)
  const letters = parts.filter((_, i) => i % 2 === 0).join('')
  if (order.length !== say.length || new Set(order).size !== order.length || letters.trim().length < 10)
    return undefined
  const source = parts.map((part, i) => (i % 2 === 1 ? '(.+)' : part.replace(/[.*+?^${}()|[\]\\]/g, '\\$&'))).join('')
  const inOrder = (given: readonly string[]) => order.map((_, place) => given[order.indexOf(place)] ?? '')
  return { english: new RegExp(`^${source}$`, 's'), inOrder }
}

function saidWithBlanks(say: Saying): string | undefined {
  try {
    const said = say(...Array.from({ length: say.length }, (_, place) => blank(place)))
    return typeof said === 'string' ? said : undefined
  } catch {
    return undefined
  }
}
