// The sheet of a week, made quicker: sums that follow the typing, Enter goes down, Ctrl+Enter saves, gardens without a page load.
function quicken(form) {
  const number = (text) => {
    const plain = text
      .trim()
      .replace(/[\s\u00a0\u202f'’]/g, '')
      .replace(',', '.')
    return /^\d*\.?\d+$|^\d+\.$/.test(plain) ? Number(plain) : null
  }
  const per = { g: 1, kg: 1000, oz: 28.349523125, lb: 453.59237, lbs: 453.59237 }
  const gramsOf = (text, unit) => {
    let sum = 0
    for (const part of text.replace(/kg\s+(?=[\d.,]+\s*g\s*(?:$|\+))/gi, 'kg+').split('+')) {
      if (!part.trim()) continue
      const found = /^\s*([\d.,\s]+?)\s*(kg|g|oz|lbs?)?\s*$/i.exec(part)
      const value = found && number(found[1])
      if (value === null || value === undefined) return null
      sum += value * per[(found[2] ?? unit).toLowerCase()]
    }
    return sum
  }
  // A figure without the day before it, as the service reads them; hours may have a day with a stroke too.
  const days = [
    /^([^:/;+]{1,20}|\d{1,2}\/\d{1,2}):\s+/,
    /^(\p{L}{2,12}[.,]?\s+\d{1,2}\.?\s?\d{1,2}\.|\d{4}-\d{2}-\d{2})\s+/u,
    /^(\d{1,2}\.\s?\d{1,2}\.)\s+/,
    /^(\d{1,2}\.?\s+(?!(?:pounds?|hrs?|hours?|mins?|minutes?|std|stunden?|minuten)\b)\p{L}{3,12}\.?)\s+(?=\d)/iu,
    /^(\p{L}{2,12}\.?\s+\d{1,2}\.?)\s+(?=\d)/u,
    /^(\p{L}{2,12}\.?)\s+(?=[\d/])/u,
  ]
  const withoutDay = (text, more = []) => {
    const plain = text.trim()
    const first = [...more, ...days].find((one) => one.test(plain))
    return first ? plain.replace(first, '') : plain
  }
  // What a cell says: picked in all, and good; null where it cannot be read yet.
  const weightIn = (cell) => {
    const input = cell.querySelector('[data-weight]')
    if (!input) return null
    const unitField = cell.querySelector('select[name$="[unit]"]')
    const unit = unitField?.value || unitField?.options[0].textContent || 'kg'
    const badField = cell.querySelector('[name$="[bad]"]')
    let [picked, good, stroke] = [0, 0, false]
    for (const entry of input.value.split(';').filter((one) => !/^[^-/+%]*-\s*\d+\s*%/.test(one))) {
      const figures = withoutDay(entry)
      const [before, after = ''] = figures.split('/')
      const bad = gramsOf((/^[\s\d.,]*(kg|g|oz|lbs?)?/i.exec(after) ?? [''])[0], unit)
      const well = gramsOf(before, unit)
      if (well === null || bad === null) return null
      stroke ||= after.trim() !== ''
      good += well
      picked += well + bad
    }
    const more = gramsOf(badField?.value ?? '', unit)
    if (more) stroke = true
    return { picked: picked + (more ?? 0), good, stroke }
  }
  const minutesIn = (cell) => {
    const text = cell.querySelector('[data-time]')?.value ?? ''
    const apart = 60 * (number(cell.querySelector('[data-hours]')?.value ?? '') ?? 0)
    const minutes = number(cell.querySelector('[data-minutes]')?.value ?? '') ?? 0
    let sum = apart + minutes
    for (const part of text.split(';').map((one) => withoutDay(one, [/^\d{1,2}\/\d{1,2}\s+(?=\d)/]))) {
      const several = /^\s*(\d+)\s*[x×*]\s*(.+)$/i.exec(part)
      const one = several ? several[2] : part
      const clock = /^\s*(\d+):([0-5]\d)\s*$/.exec(one)
      const said = /^\s*(\d+)\s*h\s*([0-5]?\d)\s*(?:m|min)?\s*$/i.exec(one)
      const short = /^\s*([\d.,]+)\s*(m|min|minutes|h|hours?)?\s*$/i.exec(one)
      const named = clock ?? said
      const per = short?.[2]?.startsWith('m') ? 1 : 60
      const value = named ? 60 * named[1] + Number(named[2]) : per * (number(short?.[1] ?? '') ?? 0)
      sum += (several ? Number(several[1]) : 1) * value
    }
    return Math.round(sum)
  }
  const clock = (minutes) => `${Math.floor(minutes / 60)}:${String(minutes % 60).padStart(2, '0')}`
  const kilograms = new Intl.NumberFormat(document.documentElement.lang, {
    minimumFractionDigits: 2,
    maximumFractionDigits: 2,
  })

  const sums = () => {
    const totals = { weights: new Map(), hours: new Map() }
    for (const cell of form.querySelectorAll('td[data-column]')) {
      const { column } = cell.dataset
      const add = (kind, more) => totals[kind].set(column, (totals[kind].get(column) ?? 0) + more)
      for (const field of cell.querySelectorAll('.week-in')) {
        const weight = weightIn(field)
        const isTyped = [...field.querySelectorAll('input')].some((input) => input.value.trim() !== '')
        if (weight && isTyped) add('weights', weight.picked)
        const echo = field.parentElement.querySelector('[data-echo]')
        if (echo) {
          echo.hidden = !weight?.stroke
          const said = (grams) => kilograms.format(grams / 1000)
          if (weight?.stroke)
            echo.textContent = form.dataset.echo
              .replace('{picked}', said(weight.picked))
              .replace('{good}', said(weight.good))
              .replace('{not}', said(weight.picked - weight.good))
        }
        if (isTyped && field.querySelector('[data-time]')) add('hours', minutesIn(field))
      }
    }
    for (const output of form.querySelectorAll('output[data-sum]')) {
      const typed = totals[output.dataset.sum].get(output.dataset.column)
      // Nothing is written, and nothing typed: that is no nought.
      if (typed === undefined && !('known' in output.dataset)) {
        output.textContent = '–'
        continue
      }
      const sum = Number(output.dataset.base) + (typed ?? 0)
      output.textContent = output.dataset.sum === 'hours' ? clock(sum) : kilograms.format(sum / 1000)
    }
  }
  form.addEventListener('input', sums)
  sums()

  const isSeen = (field) => field.checkVisibility?.() ?? field.offsetParent !== null
  form.addEventListener('keydown', (event) => {
    if (event.key !== 'Enter' || event.target.tagName !== 'INPUT') return
    if (event.ctrlKey || event.metaKey) {
      event.preventDefault()
      const save = form.querySelector('button[value="save"]')
      if (save) form.requestSubmit(save)
      return
    }
    if (event.target.name === 'find') {
      event.preventDefault()
      form.requestSubmit(form.querySelector('button[value="find"]'))
      return
    }
    event.preventDefault()
    const cell = event.target.closest('td')
    const column = cell ? [...cell.parentElement.children].indexOf(cell) : -1
    let row = cell?.parentElement.nextElementSibling
    while (row) {
      const next = [...(row.children[column]?.querySelectorAll('.week-in input') ?? [])].find(isSeen)
      if (next) return next.focus()
      row = row.nextElementSibling
    }
    // Below the last row of a column the next one begins at its top.
    const body = cell?.closest('tbody')
    for (let at = column + 1; body && at < cell.parentElement.children.length; at++) {
      for (const one of body.children) {
        const next = [...(one.children[at]?.querySelectorAll('.week-in input') ?? [])].find(isSeen)
        if (next) return next.focus()
      }
    }
    const all = [...form.querySelectorAll('input, select, button')].filter(isSeen)
    all[all.indexOf(event.target) + 1]?.focus()
  })

  for (const button of form.querySelectorAll('[data-quarter]')) {
    button.hidden = false
    button.addEventListener('click', () => {
      const [hours, minutes] = ['[data-hours]', '[data-minutes]'].map((one) => button.parentElement.querySelector(one))
      const sum = 60 * (number(hours.value) ?? 0) + (number(minutes.value) ?? 0) + 15
      hours.value = String(Math.floor(sum / 60))
      minutes.value = String(sum % 60).padStart(2, '0')
      form.dispatchEvent(new Event('input', { bubbles: true }))
    })
  }

  const next = document.getElementById('save-next')
  const go = (link) => {
    const { garden } = link.dataset
    for (const one of form.querySelectorAll('.here[data-garden], .there')) {
      one.className = one.dataset.garden === garden ? 'here' : 'there'
    }
    for (const one of document.querySelectorAll('.week-gardens a')) {
      if (one === link) one.setAttribute('aria-current', 'true')
      else one.removeAttribute('aria-current')
    }
    form.elements.namedItem('garden').value = garden
    if (next) [next.value, next.textContent] = [`next:${link.dataset.next}`, link.dataset.save]
  }
  for (const link of document.querySelectorAll('.week-gardens a')) {
    link.addEventListener('click', (event) => {
      event.preventDefault()
      go(link)
    })
  }
}

if (document.getElementById('week')) quicken(document.getElementById('week'))
