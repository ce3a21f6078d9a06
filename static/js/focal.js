// A tap on the photo sets the two numbers, and the crops below show at once what they would keep. Without script the nine
// places and the numbers do the same.
const picture = document.querySelector("[data-focal]");
const across = document.querySelector("#id_focal_x");
const down = document.querySelector("#id_focal_y");
const image = picture.querySelector("img");
const mark = picture.querySelector(".focal__mark");
const spots = [...document.querySelectorAll("input[name=spot]")];
const crops = [...document.querySelectorAll(".crops img")];

const share = (field) => {
  const number = Number.parseFloat(field.value.replace(",", "."));
  return Number.isFinite(number) ? Math.min(Math.max(number / 100, 0), 1) : 0.5;
};

// Where object-position must stand so that a window of this share of the side lies around the point, as the kitchen cuts it.
const position = (point, window) => {
  if (window >= 0.999) return 50;
  const start = Math.min(Math.max(point - window / 2, 0), 1 - window);
  return (start / (1 - window)) * 100;
};

const show = (live) => {
  const x = share(across);
  const y = share(down);
  mark.hidden = false;
  mark.style.left = `${x * 100}%`;
  mark.style.top = `${y * 100}%`;
  if (!live) return;
  const ratio = image.naturalWidth / image.naturalHeight;
  crops.forEach((crop) => {
    const box = crop.getBoundingClientRect();
    const wanted = box.width / box.height;
    if (crop.getAttribute("src") !== crop.dataset.whole) crop.src = crop.dataset.whole;
    crop.style.objectPosition = `${position(x, Math.min(1, wanted / ratio))}% ${position(y, Math.min(1, ratio / wanted))}%`;
  });
};

picture.classList.add("focal__picture--live");
document.querySelector("[data-focal-words]").hidden = false;
picture.addEventListener("click", (event) => {
  const box = image.getBoundingClientRect();
  across.value = (((event.clientX - box.left) / box.width) * 100).toFixed(1);
  down.value = (((event.clientY - box.top) / box.height) * 100).toFixed(1);
  spots.forEach((spot) => {
    spot.checked = false;
  });
  show(true);
});
spots.forEach((spot) =>
  spot.addEventListener("change", () => {
    [across.value, down.value] = spot.value.split("-");
    show(true);
  }),
);
[across, down].forEach((field) =>
  field.addEventListener("input", () => {
    spots.forEach((spot) => {
      spot.checked = false;
    });
    show(true);
  }),
);
show(false);
