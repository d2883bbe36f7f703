interface OfGroup {
  /** The count of the group's changes at which all of it was made. */
  readonly changes: number
  readonly made: Map<string, Promise<unknown>>
  bytes: number
}

interface Wanted<T> {
  readonly groupId: string
  /** The count of the group's changes, read before what is made is read. */
  readonly changes: number
  /** What is made: everything that it depends on and that is not in the group's history. */
  readonly name: string
  readonly make: () => Promise<T> | T
  /** About how much memory it takes. */
  readonly bytesOf: (made: T) => number
}

/**
 * What was made of a group's record, for as long as nothing of the group is written: its history counts everything, so
 * that what is kept may be newer than its count and never older, and no clock is asked. Whoever asks while it is being
 * made waits for the same, and makes it where that failed. The groups that were asked for longest ago go first where
 * the memory is used up.
 */
export class Kept {
  private readonly groups = new Map<string, OfGroup>()
  private readonly mostBytes: number
  private bytes = 0

  constructor(mostBytes: number) {
    this.mostBytes = mostBytes
  }

  /** How much memory is used, about. */
  get used(): number {
    return this.bytes
  }

  of<T>(wanted: Wanted<T>): Promise<T> {
    const group = this.groupAt(wanted)
    // A later count has taken its place while this one was read: not kept, and not wrong.
    if (group === null) return Promise.resolve(wanted.make())
    const before = group.made.get(wanted.name)
    // It may have failed by the database that was read by whoever began: not the one of everybody who waits.
    if (before !== undefined) return (before as Promise<T>).catch(() => this.of(wanted))
    const made = Promise.resolve().then(wanted.make)
    group.made.set(wanted.name, made)
    made.then(
      (value) => this.weigh(wanted.groupId, group, wanted.bytesOf(value)),
      () => group.made.delete(wanted.name),
    )
    return made
  }

  /** What is kept under that name at that count; undefined where it is not. */
  at<T>(groupId: string, changes: number, name: string): Promise<T> | undefined {
    const group = this.groups.get(groupId)
    if (group?.changes !== changes) return undefined
    // Asked for last: it goes last.
    this.groups.delete(groupId)
    this.groups.set(groupId, group)
    return group.made.get(name) as Promise<T> | undefined
  }

  private groupAt({ groupId, changes }: Pick<Wanted<unknown>, 'groupId' | 'changes'>): OfGroup | null {
    const known = this.groups.get(groupId)
    if (known !== undefined && known.changes > changes) return null
    this.groups.delete(groupId)
    if (known !== undefined && known.changes < changes) this.bytes -= known.bytes
    const group = known?.changes === changes ? known : { changes, made: new Map<string, Promise<unknown>>(), bytes: 0 }
    this.groups.set(groupId, group)
    return group
  }

  private weigh(groupId: string, group: OfGroup, bytes: number): void {
    if (this.groups.get(groupId) !== group) return
    group.bytes += bytes
    this.bytes += bytes
    for (const [id, one] of this.groups) {
      if (this.bytes <= this.mostBytes) return
      this.groups.delete(id)
      this.bytes -= one.bytes
    }
  }
}
