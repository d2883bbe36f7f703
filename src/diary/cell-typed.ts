/** What one cell says, in its parts as they were typed; each is read by the reader of its kind. */
interface EntryTyped {
  /** A day before the figure, as "Tu 5" or "5.5.:"; blank where none stands there. */
  readonly day: string
  /** The parts of a sum: "1.5+0.7", "2 kg 200 g". */
  readonly good: readonly string[]
  /** After a stroke: what is not marketable. */
  readonly bad: readonly string[]
  /** The word behind it: why not. */
  readonly why: string
}

/** "850 g", "2.5 / 0.4 forked", "Tu 1.2; Fr 0.9": one entry for each day or part that a semicolon sets off. */
export function entriesTyped(text: string): EntryTyped[] {
  return text
    .split(';')
    .map((part) => part.trim())
    .filter((part) => part !== '')
    .map(entryTyped)
}

/** A loss as a cell says it: "-30 % slugs", "Tu 5 -30%"; and what else stands in the cell. */
export interface LossInCell {
  readonly day: string
  readonly percent: string
  readonly cause: string
}

export function lossesTyped(text: string): { readonly losses: LossInCell[]; readonly rest: string } {
  const losses: LossInCell[] = []
  const rest: string[] = []
  for (const part of text.split(';')) {
    const [, before = '', percent = '', cause = ''] = /^([^-/+%]*)-\s*(\d{1,3})\s*%(.*)$/.exec(part) ?? []
    if (percent === '') rest.push(part)
    else losses.push({ day: before.trim().replace(/:$/, ''), percent, cause: cause.trim() })
  }
  return { losses, rest: rest.join(';') }
}

function entryTyped(text: string): EntryTyped {
  const { day, rest } = withoutDay(text)
  const stroke = rest.indexOf('/')
  const [before, after] = stroke < 0 ? [rest, ''] : [rest.slice(0, stroke), rest.slice(stroke + 1)]
  const { figure, word } = wordBehind(after)
  return { day, good: sumParts(before), bad: sumParts(figure), why: word }
}

/**
 * A day stands first: letters and perhaps a number ("Tu 5"), or figures that a colon closes ("5.5.: 1.2", "5 May:
 * 1.2").
 */
function withoutDay(text: string): { day: string; rest: string } {
  const closed = /^([^:/;+]{1,20}):\s+(\S.*)$/.exec(text)
  if (closed) return { day: (closed[1] ?? '').trim(), rest: closed[2] ?? '' }
  const numbered = /^(\p{L}{2,12}\.?\s+\d{1,2})\s+(\d.*)$/u.exec(text)
  if (numbered) return { day: numbered[1] ?? '', rest: numbered[2] ?? '' }
  const named = /^(\p{L}{2,12})\.?\s+(\d.*)$/u.exec(text)
  return named ? { day: named[1] ?? '', rest: named[2] ?? '' } : { day: '', rest: text }
}

const units = new Set(['g', 'kg', 'oz', 'lb', 'lbs', 'pound', 'pounds'])

/** "0.4 forked" is a figure and a word; the unit belongs to the figure. */
function wordBehind(text: string): { figure: string; word: string } {
  const words = text.trim().split(/\s+/)
  const at = words.findIndex((word, i) => i > 0 && /^\p{L}/u.test(word) && !units.has(word.toLowerCase()))
  if (at < 0) return { figure: text.trim(), word: '' }
  return { figure: words.slice(0, at).join(' '), word: words.slice(at).join(' ') }
}

/** Kilograms and grams said together are a sum too. */
function sumParts(text: string): string[] {
  return text
    .replace(/(\dk?)\s*kg\s+(?=[\d.,]+\s*g\s*$)/i, '$1 kg+')
    .split('+')
    .map((part) => part.trim())
    .filter((part) => part !== '')
}
