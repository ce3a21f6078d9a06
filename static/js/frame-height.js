/* For a page that holds such frames: gives each the height that it tells. A frame is known by its window, not by what it says. */
addEventListener("message", ({ data, source }) => {
  const height = Number(data?.recipeFrameHeight);
  const frame = [...document.querySelectorAll("iframe")].find((one) => one.contentWindow === source);
  if (frame && height > 0) frame.height = Math.min(Math.ceil(height), 10000);
});
