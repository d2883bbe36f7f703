/**
 * A keeper's own sentences, read into a small tree: paragraphs, lists, emphasis and links to http(s) addresses. Nothing
 * in the tree is markup: the view writes every text escaped, so what is not read here stands on the page as it was
 * typed.
 */
type Block =
  | { readonly kind: 'paragraph'; readonly spans: readonly Span[] }
  | { readonly kind: 'list'; readonly numbered: boolean; readonly lines: readonly (readonly Span[])[] }

type Span =
  | { readonly kind: 'text'; readonly text: string }
  | { readonly kind: 'strong' | 'emphasis'; readonly spans: readonly Span[] }
  | { readonly kind: 'link'; readonly text: string; readonly address: string }

/** Blank lines part the blocks; a block whose lines all begin with "- ", "* " or "1. " is a list. */
export function readOwnWords(typed: string): Block[] {
  const blocks = typed.replace(/\r\n?/g, '\n').split(/\n[ \t]*\n/)
  return blocks.flatMap((block) => {
    const lines = block.split('\n').filter((line) => line.trim() !== '')
    return lines.length === 0 ? [] : partsOf(lines)
  })
}

const bullet = /^\s*[-*]\s+/
const number = /^\s*\d{1,3}[.)]\s+/

/** A list may follow its introducing line without a blank line between. */
function partsOf(lines: readonly string[]): Block[] {
  const kindOf = (line: string) => (bullet.test(line) ? 'bullet' : number.test(line) ? 'number' : 'text')
  const runs: { kind: string; lines: string[] }[] = []
  for (const line of lines) {
    const last = runs.at(-1)
    if (last && last.kind === kindOf(line)) last.lines.push(line)
    else runs.push({ kind: kindOf(line), lines: [line] })
  }
  return runs.map((run): Block => {
    if (run.kind === 'text')
      return { kind: 'paragraph', spans: readSpans(run.lines.map((line) => line.trim()).join(' ')) }
    const marker = run.kind === 'number' ? number : bullet
    const own = run.lines.map((line) => readSpans(line.replace(marker, '').trim()))
    return { kind: 'list', numbered: run.kind === 'number', lines: own }
  })
}

/** Only these addresses become links: http or https, a host, and no character that could end an attribute. */
const safeAddress = /^https?:\/\/[\w.-]+(:\d{1,5})?([/?#][^\s<>"'`\\]*)?$/i

const marks = [
  { kind: 'link', pattern: /^\[([^[\]\n]{1,200})\]\(([^\s()]{1,500})\)/ },
  { kind: 'strong', pattern: /^\*\*(?=\S)([^*]{1,500}?)\*\*/ },
  { kind: 'emphasis', pattern: /^\*(?=[^\s*])([^*]{1,500}?)\*/ },
  { kind: 'emphasis', pattern: /^_(?=[^\s_])([^_]{1,500}?)_(?!\w)/ },
] as const

function readSpans(text: string): Span[] {
  const spans: Span[] = []
  let plain = ''
  const flush = () => {
    if (plain !== '') spans.push({ kind: 'text', text: plain })
    plain = ''
  }
  for (let at = 0; at < text.length; ) {
    const found = markAt(text, at)
    if (found) {
      flush()
      spans.push(found.span)
      at += found.length
    } else {
      const escaped = text[at] === '\\' && /[\\*_[\]()]/.test(text.charAt(at + 1))
      plain += escaped ? text[at + 1] : text[at]
      at += escaped ? 2 : 1
    }
  }
  flush()
  return spans
}

function markAt(text: string, at: number): { span: Span; length: number } | undefined {
  if (!'[*_'.includes(text.charAt(at))) return undefined
  if (text[at] === '_' && /\w/.test(text.charAt(at - 1))) return undefined
  const rest = text.slice(at, at + 800)
  for (const { kind, pattern } of marks) {
    const found = pattern.exec(rest)
    if (!found) continue
    const [whole, inner = '', address = ''] = found
    if (kind !== 'link') return { span: { kind, spans: readSpans(inner) }, length: whole.length }
    if (safeAddress.test(address)) return { span: { kind, text: inner, address }, length: whole.length }
  }
  return undefined
}
