import { spawnSync } from 'node:child_process'
import { readFileSync } from 'node:fs'
import { expect, it } from 'vitest'

/** The linter as `npm run lint` calls it, on a file of planted breaches that it leaves out otherwise. */
function found(file: string): string[] {
  const args = ['--type-aware', '--quiet', '--no-ignore', '-c', 'test/rules/planted/oxlint.json', '-f', 'json', file]
  const run = spawnSync('node_modules/.bin/oxlint', args, { encoding: 'utf8' })
  const { diagnostics } = JSON.parse(run.stdout) as { diagnostics: { code: string }[] }
  return diagnostics.map(({ code }) => /\((.*)\)/.exec(code)?.[1] ?? code).sort()
}

it('the rules on promises see a planted breach each', () => {
  expect(found('test/rules/planted/promises.ts')).toEqual([
    'await-thenable',
    'no-floating-promises',
    'no-misused-promises',
  ])
})

it('and they are the rules by which the house is held', () => {
  const rulesOf = (path: string) => (JSON.parse(readFileSync(path, 'utf8')) as { rules: unknown }).rules
  expect(rulesOf('test/rules/planted/oxlint.json')).toEqual(rulesOf('.oxlintrc.json'))
  const { scripts } = JSON.parse(readFileSync('package.json', 'utf8')) as { scripts: Record<string, string> }
  expect(scripts.lint).toContain('oxlint --type-aware')
})
