import { execFileSync } from 'node:child_process'
import { existsSync, mkdtempSync, readdirSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import fc from 'fast-check'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import type { FiguresKept } from '../../src/reports/figure-tables.ts'
import { rNumber, rText, rTexts } from '../../src/reports/r-literal.ts'
import { recomputeScript } from '../../src/reports/recompute-script.ts'
import { oddTrial } from './odd-trials.ts'
import { hasR, reportOn, scriptParts } from './recompute-folder.ts'

let folder: string
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'evenground-literal-'))
})
afterAll(() => rmSync(folder, { recursive: true, force: true }))

/** Runs R in the folder, in an encoding that knows no letter beyond ASCII: what a text means may not hang on it. */
function runR(script: string): string {
  const file = join(folder, 'run.R')
  writeFileSync(file, script)
  const env = { ...process.env, LC_ALL: 'C' }
  return execFileSync('Rscript', ['--vanilla', file], { cwd: folder, encoding: 'utf8', env })
}

const attack = '"); system("touch planted"); file.create("planted"); c("'
const pieces = [
  '"',
  "'",
  '\\',
  '`',
  '\n',
  '\r',
  '\0',
  ')',
  '(',
  ';',
  '#',
  '%',
  '{',
  '}',
  '\\u{22}',
  '\\x22',
  'r"(',
  ')"',
]
const more = ['\u2028', '\ufeff', 'é', '畑', '🥕', '\ud83e', attack, 'system("touch planted")', ' <- ', 'quit()']
const wild = fc.oneof(
  fc.string({ unit: 'binary', maxLength: 200 }),
  fc.array(fc.constantFrom(...pieces, ...more), { maxLength: 40 }).map((all) => all.join('')),
)
/** R holds no code point 0 and no half of a pair. */
const asRHolds = (text: string) =>
  Array.from(text, (one) => one.codePointAt(0) ?? 0).map((code) =>
    code === 0 || (code >= 0xd800 && code <= 0xdfff) ? 0xfffd : code,
  )

it('a text is plain letters within quotes, on lines that stay short', () => {
  expect(rText('carrot, Nantes')).toBe('"carrot, Nantes"')
  expect(rText(attack)).toMatch(/^"\\u\{22\}\\u\{29\}; system\\u\{28\}/)
  expect(rNumber(0.975)).toBe('0.975')
  expect(rNumber('1); quit(')).toBe('NA_real_')
  fc.assert(
    fc.property(fc.array(wild, { maxLength: 8 }), (texts) => {
      const literal = rTexts(texts)
      expect(literal).toMatch(/^[\x20-\x7e\n]*$/)
      expect(Math.max(...literal.split('\n').map((line) => line.length))).toBeLessThan(1000)
    }),
  )
})

/** What was frozen or brought in, with this in the place of every text that a report counts by. */
function holding(text: string): FiguresKept {
  const { contents } = reportOn(oddTrial({ seed: 1, methods: 2, seasons: 2, laid: ['A', 'B'] }), null)
  const rules = { weights: text, mix: text, outsideLosses: text, crops: [text, text] }
  const said = { ...contents.page.said, rules, referenceId: text, found: [{ kind: text, level: text }] }
  const tables = Object.fromEntries(Object.entries(contents.tables ?? {}).map(([name, rows]) => [name + text, rows]))
  const table = { ...contents.table, season: text }
  return { ...contents, table, tables, page: { ...contents.page, said } } as unknown as FiguresKept
}

describe.skipIf(!hasR)('with R at hand (Rscript is not on every machine)', () => {
  it('R reads every text back as it was', () => {
    const texts = [...pieces, ...more, '', ...fc.sample(wild, { numRuns: 300, seed: 20 })]
    const out = runR(`texts <- ${rTexts(texts)}\nfor (one in texts) cat(utf8ToInt(enc2utf8(one)), "\\n")\n`)
    const read = out.split('\n').slice(0, -1)
    expect(read.map((line) => line.trim())).toEqual(texts.map((text) => asRHolds(text).join(' ')))
    expect(existsSync(join(folder, 'planted'))).toBe(false)
  })

  it('no text of a frozen report or of one that was brought in is ever code', () => {
    const parts = ['cat("values read\\n")\n']
    const texts = [attack, ...fc.sample(wild, { numRuns: 40, seed: 21 })]
    texts.forEach((text, i) => {
      const asked = { from: `http://${text}/r/x`, query: text, contents: holding(text), parts }
      writeFileSync(join(folder, `report-${i}.R`), recomputeScript(asked))
    })
    // Whatever stands before the kept files is eleven assignments of values: no other function is named in them.
    const out = runR(`
      allowed <- c("c", "paste0", "character")
      for (file in list.files(".", "^report-")) {
        all <- as.list(parse(file))
        values <- all[-length(all)]
        stopifnot(length(values) == 11, all(vapply(values, function(one) identical(one[[1]], as.name("<-")), TRUE)))
        stopifnot(all(unlist(lapply(values, function(one) all.names(one[[3]]))) %in% c(allowed, "NA_real_")))
        source(file)
      }`)
    expect(out.trim().split('\n')).toEqual(texts.map(() => 'values read'))
    expect(readdirSync(folder)).not.toContain('planted')
  })

  it('sees code where a text is not quoted', () => {
    expect(() => runR(`rules <- c("${attack}")`)).not.toThrow()
    expect(readdirSync(folder)).toContain('planted')
  })

  it('R reads each kept file by itself', () => {
    const out = runR(`files <- list.files(${rText(join(process.cwd(), 'recompute'))}, "[.]R$", full.names = TRUE)
      for (file in files) cat(length(parse(file)) > 0, max(nchar(readLines(file))) <= 120, "")`)
    expect(out.trim()).toBe(scriptParts.map(() => 'TRUE TRUE').join(' '))
    expect(scriptParts).toHaveLength(9)
  })
})
