/** A browser of few lines: one person, their cookies and the token of their forms. */
export class Visitor {
  private readonly cookies: Map<string, string>
  private token = ''
  readonly base: string
  constructor(base: string, cookies = new Map<string, string>()) {
    this.base = base
    this.cookies = cookies
  }

  /** The same browser, at another process. */
  at(base: string): Visitor {
    return new Visitor(base, this.cookies)
  }

  /** Its cookies as they are now, whatever becomes of it later. */
  asNow(base: string): Visitor {
    return new Visitor(base, new Map(this.cookies))
  }

  get cookie(): string {
    return [...this.cookies].map(([name, value]) => `${name}=${value}`).join('; ')
  }

  /** 0 where the connection broke off. */
  async get(address: string): Promise<{ status: number; text: string; headers: Headers }> {
    return this.asked(address, {})
  }

  async post(address: string, fields: Record<string, string>) {
    const body = new URLSearchParams({ _csrf: this.token, ...fields })
    return this.asked(address, { method: 'POST', body, headers: { origin: this.base } })
  }

  /** A form with a file, its token first. */
  async upload(address: string, fields: Record<string, string>, file: Blob) {
    const body = new FormData()
    for (const [name, value] of Object.entries({ _csrf: this.token, ...fields })) body.append(name, value)
    body.append('file', file, 'rows.csv')
    return this.asked(address, { method: 'POST', body, headers: { origin: this.base } })
  }

  /** As a device sends what waits: a fresh token first, an answer in JSON. */
  async send<T>(
    address: string,
    fields: Record<string, string>,
  ): Promise<{ sent: boolean; status: number; said: T | null }> {
    const who = await this.asked('/who', { headers: { accept: 'application/json' } })
    if (who.status !== 200) return { sent: false, status: 0, said: null }
    const { person, token } = JSON.parse(who.text) as { person: string; token: string }
    const body = new URLSearchParams({ ...fields, person, _csrf: token })
    const headers = { origin: this.base, accept: 'application/json' }
    const { status, text } = await this.asked(address, { method: 'POST', body, headers })
    return { sent: true, status, said: status === 0 ? null : (JSON.parse(text) as T) }
  }

  async signIn(email: string): Promise<number> {
    await this.get('/sign-in')
    return (await this.post('/sign-in', { email, password: 'long enough to keep' })).status
  }

  async signUp(email: string): Promise<number> {
    await this.get('/sign-up')
    const { status } = await this.post('/sign-up', { name: 'Ada Rook', email, password: 'long enough to keep' })
    await this.get('/groups/new')
    return status
  }

  private async asked(address: string, asked: RequestInit & { headers?: Record<string, string> }) {
    try {
      const headers = { ...asked.headers, cookie: this.cookie }
      const answer = await fetch(`${this.base}${address}`, { ...asked, headers, redirect: 'manual' })
      for (const line of answer.headers.getSetCookie()) {
        const [name = '', value = ''] = (line.split(';')[0] ?? '').split(/=(.*)/s)
        this.cookies.set(name, value)
      }
      const text = await answer.text()
      this.token = /name="_csrf" value="([^"]+)"/.exec(text)?.[1] ?? this.token
      return { status: answer.status, text, headers: answer.headers }
    } catch {
      return { status: 0, text: '', headers: new Headers() }
    }
  }
}
