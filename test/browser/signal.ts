import { type ChildProcess, spawn } from 'node:child_process'
import { existsSync, mkdtempSync, readFileSync, rmSync } from 'node:fs'
import { request as ask, type ClientRequest, createServer, type IncomingMessage } from 'node:http'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { type Browser, chromium, type Page } from 'playwright-core'
import { chromiumHere } from './service.ts'

/** What becomes of a request: it passes; no signal; an error in place of an answer; stored, and the answer lost. */
type Weather = 'fair' | 'off' | 'error' | 'cut'

export interface Posted {
  readonly path: string
  readonly body: URLSearchParams
  readonly status: number
}

/** Stands between a browser and the service, as the net does. */
export interface Signal {
  readonly base: string
  /** For the next sheets that are sent, one after another; fair again after them. */
  sheets(...next: Weather[]): void
  set(weather: 'fair' | 'off'): void
  /** Sheets that reached the service, in order, with what it answered. */
  readonly posted: Posted[]
  /** How often a sheet was sent, whatever came of it. */
  tries(): number
  stop(): Promise<void>
}

export async function openSignal(service: string): Promise<Signal> {
  const posted: Posted[] = []
  let weather: 'fair' | 'off' = 'fair'
  let coming: Weather[] = []
  let tries = 0
  const server = createServer((from, to) => {
    const isSheet = from.method === 'POST' && /\/weeks\/\d{4}-W\d\d$/.test(from.url ?? '')
    const now = weather === 'off' ? 'off' : isSheet ? (coming.shift() ?? 'fair') : 'fair'
    if (isSheet && now !== 'off') tries++
    if (now === 'off') return from.socket.destroy()
    if (now === 'error') return to.writeHead(500, { 'content-type': 'text/html' }).end('<p>No</p>')
    const chunks: Buffer[] = []
    from.on('data', (chunk: Buffer) => chunks.push(chunk))
    from.on('end', () => {
      const body = Buffer.concat(chunks)
      passOn(service, from, body, (answer) => {
        const said = {
          path: from.url ?? '',
          body: new URLSearchParams(body.toString()),
          status: answer.statusCode ?? 0,
        }
        if (isSheet) posted.push(said)
        // As a gateway says it: a browser sends anew by itself where only the connection ends.
        if (now === 'cut') return to.writeHead(504, { 'content-type': 'text/html' }).end('<p>Too late</p>')
        to.writeHead(answer.statusCode ?? 500, answer.headers)
        answer.pipe(to)
      }).on('error', () => from.socket.destroy())
    })
  })
  await new Promise<void>((done) => server.listen(0, '127.0.0.1', done))
  const address = server.address()
  const port = typeof address === 'object' && address ? address.port : 0
  return {
    base: `http://127.0.0.1:${port}`,
    posted,
    tries: () => tries,
    sheets: (...next) => {
      coming = next
    },
    set: (next) => {
      weather = next
      if (next === 'off') server.closeAllConnections()
    },
    stop: () =>
      new Promise((done) => {
        server.close(() => done())
        server.closeAllConnections()
      }),
  }
}

function passOn(
  service: string,
  from: IncomingMessage,
  body: Buffer,
  answered: (answer: IncomingMessage) => void,
): ClientRequest {
  const passed = ask(new URL(from.url ?? '/', service), { method: from.method, headers: from.headers }, answered)
  passed.end(body)
  return passed
}

/** A browser with a profile on the disk, that can be killed as a phone is when its battery is empty. */
export interface Phone {
  page(): Promise<Page>
  /** Ended as usual: who is signed in is on the disk then (a browser writes its cookies only now and then). */
  quit(): Promise<void>
  kill(): Promise<void>
}

export const newProfile = (): string => mkdtempSync(join(tmpdir(), 'evenground-profile-'))

export async function openPhone(profile: string): Promise<Phone> {
  const portFile = join(profile, 'DevToolsActivePort')
  rmSync(portFile, { force: true })
  const given = ['--headless=new', '--no-sandbox', '--no-first-run', '--disable-gpu', '--remote-debugging-port=0']
  const child: ChildProcess = spawn(chromiumHere, [...given, `--user-data-dir=${profile}`, 'about:blank'], {
    ...{ stdio: 'ignore', detached: true },
  })
  for (let i = 0; i < 600 && !existsSync(portFile); i++) await new Promise((done) => setTimeout(done, 100))
  await new Promise((done) => setTimeout(done, 200))
  const [port] = readFileSync(portFile, 'utf8').split('\n')
  const ended = new Promise((done) => child.on('close', done))
  const browser: Browser = await chromium.connectOverCDP(`http://127.0.0.1:${port}`)
  return {
    page: async () => {
      const [context] = browser.contexts()
      if (!context) throw new Error('The browser has no profile open')
      return context.newPage()
    },
    quit: async () => {
      const session = await browser.newBrowserCDPSession()
      await session.send('Browser.close').catch(() => undefined)
      await ended
    },
    kill: async () => {
      // The whole of the browser at once: its processes are a group of their own.
      if (child.pid) process.kill(-child.pid, 'SIGKILL')
      await ended
      await browser.close().catch(() => undefined)
    },
  }
}
