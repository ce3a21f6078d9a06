// Returns the texts with less contrast than 4.5 to 1, or 3 to 1 where they are large.
() => {
  const pen = new OffscreenCanvas(1, 1).getContext("2d", { willReadFrequently: true });
  const paint = colour => {
    pen.clearRect(0, 0, 1, 1);
    pen.fillStyle = colour;
    pen.fillRect(0, 0, 1, 1);
    return pen.getImageData(0, 0, 1, 1).data;
  };
  const light = rgb => [...rgb].slice(0, 3).map(part => part / 255)
    .map(part => part <= 0.04045 ? part / 12.92 : ((part + 0.055) / 1.055) ** 2.4)
    .reduce((sum, part, place) => sum + part * [0.2126, 0.7152, 0.0722][place], 0);
  const ground = node => {
    for (let at = node; at; at = at.parentElement) {
      const rgb = paint(getComputedStyle(at).backgroundColor);
      if (rgb[3] === 255) return rgb;
    }
    return paint("Canvas");
  };
  const found = new Set(), texts = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  while (texts.nextNode()) {
    const node = texts.currentNode.parentElement, words = texts.currentNode.data.trim();
    if (!words || !node.checkVisibility()) continue;
    if (node.closest("svg, :disabled, [aria-disabled=true], option, .visually-hidden")) continue;
    const look = getComputedStyle(node), size = parseFloat(look.fontSize);
    const [one, two] = [light(paint(look.color)), light(ground(node))].sort((a, b) => b - a);
    const needed = size >= 24 || (size >= 18.66 && look.fontWeight >= 700) ? 3 : 4.5;
    const contrast = (one + 0.05) / (two + 0.05);
    if (contrast < needed) found.add(`${contrast.toFixed(2)} to 1: ${words.slice(0, 40)}`);
  }
  return [...found];
}
