// A link can be selected and copied by hand; with a script a button does it and says so.
for (const button of document.querySelectorAll('button[data-copies]')) {
  if (!navigator.clipboard) continue
  button.hidden = false
  button.addEventListener('click', async () => {
    const link = document.getElementById(button.dataset.copies)
    await navigator.clipboard.writeText(link.textContent.trim())
    button.textContent = button.dataset.copied
  })
}
