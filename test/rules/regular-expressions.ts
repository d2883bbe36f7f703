import { readFileSync } from 'node:fs'
import { parseSync, Visitor } from 'oxc-parser'

export interface Expression {
  readonly file: string
  readonly line: number
  readonly source: string
  readonly flags: string
}

/** Every regular expression of a source: literals, and those made of one plain text. What is put together from parts is named too. */
export function expressionsOf(file: string, text = readFileSync(file, 'utf8')): Expression[] {
  const found: Expression[] = []
  const lineAt = (start: number) => text.slice(0, start).split('\n').length
  const { program, errors } = parseSync(file, text)
  if (errors.length > 0) throw new Error(`${file} cannot be read: ${errors[0]?.message}`)
  const made = (node: { callee: unknown; arguments: readonly unknown[]; start: number }) => {
    if ((node.callee as { name?: string }).name !== 'RegExp') return
    const [pattern, flags] = node.arguments as readonly { type: string; value?: unknown }[]
    const source = pattern?.type === 'Literal' ? String(pattern.value) : ''
    found.push({ file, line: lineAt(node.start), source, flags: String(flags?.value ?? '') })
  }
  new Visitor({
    Literal(node) {
      if (!('regex' in node)) return
      found.push({ file, line: lineAt(node.start), source: node.regex.pattern, flags: node.regex.flags })
    },
    NewExpression: made,
    CallExpression: made,
  }).visit(program)
  return found
}
