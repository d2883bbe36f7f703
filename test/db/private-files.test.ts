import { chmodSync, mkdirSync, mkdtempSync, rmSync, statSync, symlinkSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { expect, it } from 'vitest'
import { keepFolderPrivate, keepPrivate } from '../../src/db/private-files.ts'

const modeOf = (path: string) => (statSync(path).mode & 0o777).toString(8)

it('folders and files that others could read become the owner’s alone, and nothing that a link leads to', () => {
  const folder = mkdtempSync(join(tmpdir(), 'evenground-private-'))
  const [data, elsewhere] = [join(folder, 'database'), join(folder, 'elsewhere')]
  mkdirSync(join(data, 'base'), { recursive: true })
  for (const file of [join(data, 'base', '1'), elsewhere]) writeFileSync(file, 'rows')
  for (const open of [join(data, 'base', '1'), elsewhere]) chmodSync(open, 0o666)
  for (const open of [data, join(data, 'base')]) chmodSync(open, 0o755)
  symlinkSync(elsewhere, join(data, 'link'))
  keepPrivate(data)
  expect([data, join(data, 'base'), join(data, 'base', '1'), elsewhere].map(modeOf)).toEqual([
    '700',
    '700',
    '600',
    '666',
  ])
  rmSync(folder, { recursive: true })
})

it('a data folder with nothing else in it is the owner’s alone, another stays as it is', () => {
  const folder = mkdtempSync(join(tmpdir(), 'evenground-private-'))
  mkdirSync(join(folder, 'database'))
  chmodSync(folder, 0o755)
  writeFileSync(join(folder, 'holiday.txt'), '')
  keepFolderPrivate(folder)
  expect(modeOf(folder)).toBe('755')
  rmSync(join(folder, 'holiday.txt'))
  keepFolderPrivate(folder)
  expect(modeOf(folder)).toBe('700')
  rmSync(folder, { recursive: true })
})
