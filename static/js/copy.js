/* A button beside a field copies what the field holds, and says so; without a clipboard it marks the text. */
for (const button of document.querySelectorAll("[data-copies]")) {
  const field = document.getElementById(button.dataset.copies);
  button.hidden = false;
  button.addEventListener("click", async () => {
    field.select();
    try {
      await navigator.clipboard.writeText(field.value);
      button.textContent = "Copied";
    } catch {
      button.textContent = "Marked: copy it now";
    }
  });
}
