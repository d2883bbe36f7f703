interface Line<V> {
  /** The run that has begun, until it is settled. */
  running: Promise<void> | null
  /** The next run: it has not begun, so whoever asks now may have its answer. */
  next: Promise<V> | null
}

/**
 * After what has arrived meanwhile was read: an engine in this process would keep the others at the door until it is
 * done.
 */
const whenRead = () => new Promise<void>((done) => setImmediate(done))

/**
 * Answers many who ask for the same at once with one piece of work. Nobody gets an answer that was begun before they
 * asked: what was taken back a moment ago is not given out.
 */
export function together<V>(work: (key: string) => Promise<V>): (key: string) => Promise<V> {
  const lines = new Map<string, Line<V>>()
  const run = async (key: string, line: Line<V>): Promise<V> => {
    await line.running
    await whenRead()
    line.next = null
    const begun = work(key)
    const settled = () => {
      line.running = null
      if (line.next === null) lines.delete(key)
    }
    line.running = begun.then(settled, settled)
    return begun
  }
  return (key) => {
    const line = lines.get(key) ?? { running: null, next: null }
    lines.set(key, line)
    line.next ??= run(key, line)
    return line.next
  }
}
