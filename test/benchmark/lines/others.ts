import { execFileSync } from 'node:child_process'
import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { copyOfExample } from '../../process/example.ts'
import { start } from '../../process/service.ts'
import { Visitor } from '../../process/visitor.ts'
import { besideCompares, type Crowd } from '../beside-compares.ts'
import { fittedBoth, ofUsualSize } from '../mixed-model-fits.ts'
import type { Ground } from './ground.ts'
import { medianOf, type Tell } from './taken.ts'

export async function mixedModel(_ground: Ground, tell: Tell): Promise<void> {
  const line = { work: 'a mixed model, 1,800 plots', against: 'lme4', most: 0.5 }
  if (!hasLme4()) return tell({ ...line, found: 'no R with lme4 here' })
  for (const { here, inR } of fittedBoth([ofUsualSize()]).fitted) {
    const taken = ({ fits, spent }: typeof here) => ({ ms: medianOf(fits), processor: medianOf(spent) })
    tell({ ...line, found: { one: taken(here), other: taken(inR) } })
  }
}

function hasLme4(): boolean {
  try {
    execFileSync('Rscript', ['-e', 'library(lme4); library(lmerTest); library(jsonlite)'], { stdio: 'ignore' })
    return true
  } catch {
    return false
  }
}

/** The page of signing in, of a service that is a process of its own and has just started. */
export async function signingIn({ url, group }: Ground, tell: Tell): Promise<void> {
  const largest = async (base: string) => {
    const visitor = new Visitor(base)
    await visitor.signIn(group.email)
    return [{ visitor, slug: group.slug }]
  }
  const copies = async (base: string) => [
    await copyOfExample(base),
    await copyOfExample(base),
    await copyOfExample(base),
  ]
  await besideThem('three copies of the example', copies)
  await besideThem('the group of ten years', largest)

  async function besideThem(of: string, made: (base: string) => Promise<readonly Crowd[]>): Promise<void> {
    const folder = mkdtempSync(join(tmpdir(), 'evenground-beside-'))
    const run = await start({ EVENGROUND_DATA: folder, DATABASE_URL: url })
    await run.said(/is ready/)
    const { alone, beside } = await besideCompares(run, await made(run.base))
    run.child.kill('SIGTERM')
    await run.ended
    rmSync(folder, { recursive: true, force: true })
    const taken = (ms: readonly number[]) => ({ ms: medianOf(ms), processor: null })
    const found = { one: taken(beside.page), other: taken(alone.page) }
    tell({ work: `\`/sign-in\` beside a hundred Compares at once, ${of}`, against: 'alone', most: 10, found })
  }
}
