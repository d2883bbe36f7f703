/**
 * Text as a literal of R, the only way in which a value gets into a script. What is not a plain letter, figure or one
 * of a few signs becomes its code point, so that no text ends its quotes, its line or the script, whatever the reader's
 * encoding is. R holds no code point 0 and no half of a pair: both are written as U+FFFD. A long text is joined from
 * pieces, a line each. https://stat.ethz.ch/R-manual/R-devel/library/base/html/Quotes.html
 * Example: rText('a"b') is "a\u{22}b".
 */
export function rText(text: string): string {
  const signs = Array.from(text, sign)
  const pieces = [`"${signs.slice(0, signsOnALine).join('')}"`]
  for (let at = signsOnALine; at < signs.length; at += signsOnALine) {
    pieces.push(`"${signs.slice(at, at + signsOnALine).join('')}"`)
  }
  return pieces.length === 1 ? (pieces[0] ?? '""') : `paste0(${joinArguments(pieces)})`
}

/** Texts as a vector of R, one a line where they are many. */
export function rTexts(texts: readonly string[]): string {
  return texts.length === 0 ? 'character(0)' : `c(${joinArguments(texts.map(rText))})`
}

/** A number as R reads it back to the last digit; what is none is NA. */
export function rNumber(value: unknown): string {
  return typeof value === 'number' && Number.isFinite(value) ? String(value) : 'NA_real_'
}

/** At most ten characters a sign, so that a line stays far below the 4,095 bytes that R's prompt takes. */
const signsOnALine = 80

const plain = /^[A-Za-z0-9 .,:;/&=?_-]$/

function sign(one: string): string {
  if (plain.test(one)) return one
  // A character of a text has a number.
  const code = one.codePointAt(0) ?? 0
  const known = code === 0 || (code >= 0xd800 && code <= 0xdfff) ? 0xfffd : code
  return known > 0xffff ? `\\U{${known.toString(16)}}` : `\\u{${known.toString(16)}}`
}

const joinArguments = (all: readonly string[]) => {
  const short = all.join(', ')
  return short.length <= 80 ? short : `\n  ${all.join(',\n  ')}\n`
}
