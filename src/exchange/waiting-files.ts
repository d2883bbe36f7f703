interface Waiting {
  readonly id: string
  readonly group: { readonly id: string }
  /** "reading" and "storing" are work under way. */
  readonly state: string
}

const ofAll = 20
const ofGroup = 3
const keptMs = 3_600_000

/** Files that were read and wait to be confirmed: a few at a time, each for an hour, in this process alone. */
export class WaitingFiles<T extends Waiting> {
  private readonly files = new Map<string, T>()
  private readonly forget: (file: T) => void

  constructor(forget: (file: T) => void) {
    this.forget = forget
  }

  /** Lets go of the oldest that nothing is done with where there are many; false where all are being worked on. */
  makeRoom(groupId: string): boolean {
    const all = [...this.files.values()]
    const own = all.filter((file) => file.group.id === groupId)
    const crowd = own.length >= ofGroup ? own : all.length >= ofAll ? all : []
    if (crowd.length === 0) return true
    const idle = crowd.find((file) => !['reading', 'storing'].includes(file.state))
    if (idle) this.drop(idle)
    return idle !== undefined
  }

  keep(file: T): void {
    this.files.set(file.id, file)
    setTimeout(() => this.drop(file), keptMs).unref()
  }

  find(groupId: string, id: string): T | undefined {
    const file = this.files.get(id)
    return file?.group.id === groupId ? file : undefined
  }

  drop(file: T): void {
    if (this.files.delete(file.id)) this.forget(file)
  }

  dropAll(): void {
    for (const file of this.files.values()) this.drop(file)
  }
}
