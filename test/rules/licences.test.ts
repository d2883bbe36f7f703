import { readFileSync } from 'node:fs'
import { expect, it } from 'vitest'
import { shipped } from '../../.ci/licences.mjs'

const lock = JSON.parse(readFileSync('package-lock.json', 'utf8')) as { packages: Record<string, object> }

it('each package that is shipped stands in the list with its licence, and no other', () => {
  const planted = { ...lock.packages, 'node_modules/planted': { version: '1.0.0', license: 'ISC' } }
  const tool = { 'node_modules/tool': { version: '1.0.0', license: 'ISC', dev: true } }
  expect(shipped({ packages: { ...planted, ...tool } })).toEqual([...shipped(lock), 'planted 1.0.0: ISC'].sort())
  const lines = readFileSync('views/licences.txt', 'utf8').split('\n')
  const listed = lines.slice(0, lines.indexOf('-'.repeat(80))).filter((line) => /^\S+ \d+\.\d+\.\d+\S*: /.test(line))
  expect(listed).toEqual(shipped(lock))
  expect(listed.filter((line) => line.endsWith('see its text'))).toEqual([])
})
