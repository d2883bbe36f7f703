/** A change of a group's history: its number and its moment, which another history has under another number. */
export interface LastChange {
  readonly number: number
  readonly moment: string
}

interface KeptAt<T> {
  /** The last change of the group when it was read. */
  readonly at: LastChange
  readonly value: T
}

/**
 * What was read last of each group, with the change that was its last one then: whoever takes it asks first what was
 * written since (`writtenSince`). The groups that were asked for longest ago go first where the memory is used up.
 */
export class LastKept<T> {
  private readonly groups = new Map<string, KeptAt<T>>()
  private readonly mostBytes: number
  private readonly bytesOf: (value: T) => number
  private bytes = 0

  constructor(mostBytes: number, bytesOf: (value: T) => number) {
    this.mostBytes = mostBytes
    this.bytesOf = bytesOf
  }

  of(groupId: string): KeptAt<T> | undefined {
    return this.groups.get(groupId)
  }

  keep(groupId: string, kept: KeptAt<T>): void {
    this.drop(groupId)
    this.groups.set(groupId, kept)
    this.bytes += this.bytesOf(kept.value)
    for (const id of this.groups.keys()) {
      if (this.bytes <= this.mostBytes) return
      this.drop(id)
    }
  }

  private drop(groupId: string): void {
    const known = this.groups.get(groupId)
    if (known === undefined) return
    this.groups.delete(groupId)
    this.bytes -= this.bytesOf(known.value)
  }
}
