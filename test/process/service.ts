import { type ChildProcess, execFileSync, spawn } from 'node:child_process'
import { createServer } from 'node:net'

execFileSync('node', ['src/build-if-old.mjs'], { stdio: 'inherit' })

/** The service as a process of its own, for what can only be tried on one. */
export interface Run {
  readonly child: ChildProcess
  readonly base: string
  readonly ended: Promise<number | null>
  output(): string
  said(pattern: RegExp): Promise<RegExpMatchArray>
}

/**
 * On a free port, or on the one that `set` names: a service that was killed comes back where it was. By its program for
 * one process, or for several.
 */
export async function start(set: Record<string, string>, program: 'main' | 'cluster' = 'main'): Promise<Run> {
  const { DATABASE_URL: _none, ...env } = process.env
  const port = set.PORT ?? String(await freePort())
  const child = spawn('node', [`dist/${program}.js`], { env: { ...env, ...set, PORT: port } })
  let output = ''
  for (const stream of [child.stdout, child.stderr]) stream.on('data', (chunk) => (output += String(chunk)))
  const ended = new Promise<number | null>((resolve) => child.on('close', resolve))
  const said = async (pattern: RegExp) => {
    for (let i = 0; i < 3000; i++) {
      const found = output.match(pattern)
      if (found) return found
      await new Promise((resolve) => setTimeout(resolve, 100))
    }
    throw new Error(`It never said ${pattern}, but: ${output}`)
  }
  return { child, base: `http://127.0.0.1:${port}`, ended, output: () => output, said }
}

export function freePort(): Promise<number> {
  return new Promise((resolve) => {
    const probe = createServer().listen(0, '127.0.0.1', () => {
      const address = probe.address()
      probe.close(() => resolve(typeof address === 'object' && address ? address.port : 0))
    })
  })
}
