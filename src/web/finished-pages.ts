/** Finished pages by name, as the bytes that are sent; those that were given last, up to so many bytes of them. */
export class FinishedPages {
  private readonly pages = new Map<string, Buffer>()
  private readonly most: number
  private bytes = 0

  constructor(most: number) {
    this.most = most
  }

  get(name: string): Buffer | undefined {
    const page = this.pages.get(name)
    if (page === undefined) return undefined
    this.pages.delete(name)
    this.pages.set(name, page)
    return page
  }

  /** Keeps a page and answers its bytes. One that is larger than all that may be kept is not. */
  keep(name: string, html: string): Buffer {
    const page = Buffer.from(html)
    this.forget(name)
    if (page.length > this.most) return page
    this.pages.set(name, page)
    this.bytes += page.length
    for (const oldest of this.pages.keys()) if (this.bytes > this.most) this.forget(oldest)
    return page
  }

  private forget(name: string): void {
    const page = this.pages.get(name)
    if (page === undefined) return
    this.bytes -= page.length
    this.pages.delete(name)
  }
}
