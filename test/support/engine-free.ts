import { existsSync, readdirSync, readFileSync } from 'node:fs'
import { dirname, join, normalize } from 'node:path'

/**
 * The test files that open no database of the engine under test: nothing they try changes with the engine, and a run on a
 * server leaves them to the run on the built-in one. A file reaches the engine where it, or what it imports of the tests,
 * reads TEST_DATABASE_URL.
 */
export function engineFree(root = '.'): string[] {
  return readdirSync(join(root, 'test'), { recursive: true, encoding: 'utf8' })
    .map((name) => `test/${name}`)
    .filter((name) => name.endsWith('.test.ts') && !name.startsWith('test/browser/'))
    .filter((name) => ![...reached(join(root, name))].some((file) => readFileSync(file, 'utf8').includes(asksFor)))
}

const asksFor = ['process', 'env', 'TEST_DATABASE_URL'].join('.')

/** The file and all of the tests' own that it imports, itself or through others. */
function reached(file: string, found = new Set<string>()): Set<string> {
  if (found.has(file) || !existsSync(file)) return found
  found.add(file)
  for (const [, from = ''] of readFileSync(file, 'utf8').matchAll(/from '(\.[^']+)'/g))
    if (!from.includes('/src/')) reached(normalize(join(dirname(file), from)), found)
  return found
}
