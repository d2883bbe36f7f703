import { dirname, join } from 'node:path'
import { type ArrayExpression, type ObjectExpression, parseSync, Visitor } from 'oxc-parser'
import type { SourceFile } from './import-rules.ts'

/** Every name that a file of the house exports and no file imports, as "path name"; tables are read by drizzle. */
export function exportedForNobody(sources: readonly SourceFile[]): string[] {
  const modules = sources.map(({ path, text }) => ({ path, text, module: parseSync(path, text).module }))
  const imported = new Set<string>()
  for (const { path, text, module } of modules) {
    const from = (written: string) => join(dirname(path), written)
    for (const one of module.staticImports) {
      for (const { importName } of one.entries) {
        imported.add(`${from(one.moduleRequest.value)} ${importName.name ?? everything}`)
      }
    }
    for (const one of module.staticExports.flatMap((exported) => exported.entries)) {
      if (one.moduleRequest) imported.add(`${from(one.moduleRequest.value)} ${one.importName.name ?? everything}`)
    }
    for (const { moduleRequest } of module.dynamicImports) {
      imported.add(`${from(text.slice(moduleRequest.start + 1, moduleRequest.end - 1))} ${everything}`)
    }
  }
  return modules
    .filter(
      ({ path }) => path.startsWith('src/') && !path.endsWith('.table.ts') && !imported.has(`${path} ${everything}`),
    )
    .flatMap(({ path, module }) =>
      module.staticExports
        .flatMap((exported) => exported.entries)
        .map((entry) => `${path} ${entry.exportName.name ?? 'default'}`)
        .filter((name) => !imported.has(name)),
    )
}

const everything = '*'

export interface Written {
  /** `x as Y`, but for `as const`: the compiler is told instead of asked. */
  casts: number
  /** `?? 0` and `?? ''` without a reason above them: what is not known becomes nothing. */
  zeros: number
  blanks: number
  /** `...{ a, b }`, which only saves lines. */
  spreads: number
}

/** How often a source is written so. */
export function countsOf({ path, text }: SourceFile): Written {
  const counts: Written = { casts: 0, zeros: 0, blanks: 0, spreads: 0 }
  const lines = text.split('\n')
  const lineOf = (place: number) => text.slice(0, place).split('\n').length - 1
  const hasReason = (line: number) => /^\s*(\/\/ \S|\/\*\* \S.*\*\/$)/.test(lines[line - 1] ?? '')
  const within = (node: ObjectExpression | ArrayExpression) => {
    const parts = node.type === 'ObjectExpression' ? node.properties : node.elements
    for (const part of parts) {
      if (part?.type === 'SpreadElement' && part.argument.type === 'ObjectExpression') counts.spreads += 1
    }
  }
  new Visitor({
    TSAsExpression: ({ typeAnnotation }) => {
      if (text.slice(typeAnnotation.start, typeAnnotation.end) !== 'const') counts.casts += 1
    },
    LogicalExpression: ({ operator, right, start }) => {
      if (operator !== '??' || right.type !== 'Literal') return
      if (hasReason(lineOf(start)) || hasReason(lineOf(right.start))) return
      if (right.value === 0) counts.zeros += 1
      if (right.value === '') counts.blanks += 1
    },
    ObjectExpression: within,
    ArrayExpression: within,
  }).visit(parseSync(path, text).program)
  return counts
}

/** Where words choose between one and several by themselves and not by the rules of their language. */
export function pluralsByHand({ path, text }: SourceFile): string[] {
  const found: string[] = []
  new Visitor({
    ConditionalExpression: ({ test, start }) => {
      const inside = test.type === 'ParenthesizedExpression' ? test.expression : test
      if (inside.type !== 'BinaryExpression' || !/^[!=]==$/.test(inside.operator)) return
      if (inside.right.type !== 'Literal' || inside.right.value !== 1) return
      found.push(`${path}:${text.slice(0, start).split('\n').length}`)
    },
  }).visit(parseSync(path, text).program)
  return found
}

/** What the house calls by one name and declares in several files, as "name: paths": one noun, one meaning. */
export function namesOfTwo(sources: readonly SourceFile[]): string[] {
  const declaredIn = new Map<string, string[]>()
  for (const { path, text } of sources) {
    for (const { exportName, moduleRequest } of parseSync(path, text).module.staticExports.flatMap(
      (one) => one.entries,
    )) {
      if (moduleRequest || !exportName.name) continue
      declaredIn.set(exportName.name, [...(declaredIn.get(exportName.name) ?? []), path])
    }
  }
  return [...declaredIn].filter(([, paths]) => paths.length > 1).map(([name, paths]) => `${name}: ${paths.join(', ')}`)
}
