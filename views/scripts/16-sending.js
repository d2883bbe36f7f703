// Sends what waits, in order, each with a fresh token and under the ids it was typed with: sent twice it is stored once.
const sending = (() => {
  const patience = 20_000
  const asks = { accept: 'application/json' }

  // Null where no answer of ours came: no signal, a page of somebody else's net, or the service is away.
  const ask = async (address, options) => {
    try {
      const limit = AbortSignal.timeout(patience)
      const answer = await fetch(address, { cache: 'no-store', signal: limit, headers: asks, ...options })
      if (!answer.headers.get('content-type')?.startsWith('application/json')) return null
      return { status: answer.status, ...(await answer.json()) }
    } catch {
      return null
    }
  }

  const isOf = (cell, name, value) =>
    name.startsWith(`${cell}[`) || (/^(close|reopen)/.test(name) && `${name.slice(0, -2)}[${value}]` === cell)
  const always = ['day', 'who', 'source', 'reason']

  // What the cells that are not right were sent with.
  const remains = (fields, wrong) => {
    const cells = Object.keys(wrong)
    const all = (name) => cells.some((cell) => cell.startsWith(`${name.slice(0, -2)}[`))
    return fields.filter(
      ([name, value]) =>
        always.includes(name) ||
        cells.some((cell) => isOf(cell, name, value)) ||
        (/^close.*\[\]$/.test(name) && value === 'all' && all(name)) ||
        (cells.includes('reason') && name.startsWith('reopen')),
    )
  }

  const sendOne = async (sheet) => {
    const who = await ask('/who')
    if (who?.status !== 200) return { kind: 'later' }
    if (who.person !== sheet.person) return { kind: who.person ? 'other' : 'signIn' }
    const body = new URLSearchParams([
      ...sheet.fields,
      ['id', sheet.id],
      ['person', sheet.person],
      ['_csrf', who.token],
    ])
    const answer = await ask(`/g/${sheet.group}/weeks/${sheet.week}`, { method: 'POST', body })
    if (!answer) return { kind: 'later' }
    const { status, problem, wrong } = answer
    if (status === 200 && wrong) return { kind: 'stored', told: answer.told, onward: answer.onward }
    if (status === 422 && wrong)
      return { kind: 'refused', wrong, fields: remains(sheet.fields, wrong), told: answer.told }
    if (problem === 'sign-in-first') return { kind: 'signIn' }
    if (problem === 'factor-first') return { kind: 'proof' }
    if (problem === 'other-person') return { kind: 'other' }
    if (!problem || status >= 500 || ['foreign-form', 'too-often'].includes(problem)) return { kind: 'later' }
    return { kind: 'refused', wrong: { sheet: answer.said }, fields: sheet.fields, told: '' }
  }

  // What waits for its writer and not for a signal: all of it, or that of groups that ask for a passkey or a code first.
  // Each try is a refusal in the service's log, so no clock makes one.
  const rests = { all: false, groups: new Set() }
  const wake = () => {
    rests.all = false
    rests.groups.clear()
  }

  const sendAll = async (person) => {
    const sent = []
    for (const sheet of rests.all ? [] : await kept.waiting(person)) {
      if (sheet.refused || rests.groups.has(sheet.group)) continue
      const answer = await sendOne(sheet)
      sent.push({ sheet, ...answer })
      if (answer.kind === 'stored') await kept.drop(sheet)
      else if (answer.kind === 'refused')
        await kept.change({ ...sheet, fields: answer.fields, refused: Object.entries(answer.wrong) })
      else if (answer.kind === 'proof') rests.groups.add(sheet.group)
      else {
        rests.all = answer.kind !== 'later'
        break
      }
    }
    return sent
  }

  // What was seen of a group goes from the device of whoever is in it no more.
  const forgetGone = async (person) => {
    const known = new Set((await kept.weeks(person)).map((one) => one.group))
    const who = known.size > 0 ? await ask('/who') : null
    if (who?.status !== 200 || who.person !== person) return
    for (const group of known) if (!who.groups.includes(group)) await kept.forgetWeeks(person, group)
  }

  // One page of a browser at a time, where it can say so; the ids make two harmless all the same.
  const alone = (work) => (navigator.locks ? navigator.locks.request('evenground-sending', work) : work())
  let under = Promise.resolve([])
  const inTurn = (work) => {
    under = under.catch(() => []).then(() => alone(work))
    return under
  }
  return {
    forgetGone,
    rests: () => ({ signIn: rests.all, proof: rests.groups.size > 0 }),
    // For a reason: its page was opened or seen again, a signal came, somebody pressed a button.
    all: (person) =>
      inTurn(() => {
        wake()
        return sendAll(person)
      }),
    byClock: (person) => inTurn(() => sendAll(person)),
  }
})()
