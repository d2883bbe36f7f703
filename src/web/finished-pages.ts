import { type Both, bothOf } from './packed-answers.ts'

/** Finished pages by name, as the bytes that are sent; those that were given last, up to so many bytes of them. */
export class FinishedPages {
  private readonly pages = new Map<string, Both>()
  private readonly most: number
  private bytes = 0

  constructor(most: number) {
    this.most = most
  }

  get(name: string): Both | undefined {
    const page = this.pages.get(name)
    if (page === undefined) return undefined
    this.pages.delete(name)
    this.pages.set(name, page)
    return page
  }

  /** Keeps a page, compressed once, and answers its bytes. One that is larger than all that may be kept is not. */
  async keep(name: string, html: string): Promise<Both> {
    const page = await bothOf(html)
    this.forget(name)
    if (bytesOf(page) > this.most) return page
    this.pages.set(name, page)
    this.bytes += bytesOf(page)
    for (const oldest of this.pages.keys()) if (this.bytes > this.most) this.forget(oldest)
    return page
  }

  private forget(name: string): void {
    const page = this.pages.get(name)
    if (page === undefined) return
    this.bytes -= bytesOf(page)
    this.pages.delete(name)
  }
}

const bytesOf = ({ plain, gzip }: Both) => plain.length + gzip.length
