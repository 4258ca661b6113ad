// Collects a signature as strokes of x, y in thousandths of the pad. The server checks it again.
const mostPoints = 1800; // of one signature: what is drawn after that is not kept, so that the message stays small
const nearest = 6; // thousandths: closer points add nothing that a person sees
const pads = new WeakMap();

export function attach(canvas) {
  if (pads.has(canvas)) return;
  const pad = { strokes: [], points: 0, current: null };
  pads.set(canvas, pad);
  const pen = canvas.getContext("2d");
  pen.lineWidth = 4;
  pen.lineCap = "round";
  pen.lineJoin = "round";
  pen.strokeStyle = "#1f2326";

  const place = (event) => {
    const box = canvas.getBoundingClientRect();
    const share = (value, size) => Math.round(Math.min(1, Math.max(0, value / size)) * 1000);
    return [share(event.clientX - box.left, box.width), share(event.clientY - box.top, box.height)];
  };

  canvas.addEventListener("pointerdown", (event) => {
    event.preventDefault();
    canvas.setPointerCapture(event.pointerId);
    pad.current = place(event);
    pad.points += 1;
    pad.strokes.push(pad.current);
  });
  canvas.addEventListener("pointermove", (event) => {
    const stroke = pad.current;
    if (!stroke || pad.points >= mostPoints) return;
    const [x, y] = place(event);
    const [lastX, lastY] = stroke.slice(-2);
    if (Math.abs(x - lastX) + Math.abs(y - lastY) < nearest) return;
    stroke.push(x, y);
    pad.points += 1;
    pen.beginPath();
    pen.moveTo((lastX / 1000) * canvas.width, (lastY / 1000) * canvas.height);
    pen.lineTo((x / 1000) * canvas.width, (y / 1000) * canvas.height);
    pen.stroke();
  });
  for (const end of ["pointerup", "pointercancel"]) canvas.addEventListener(end, () => (pad.current = null));
  canvas.dataset.listens = "yes";
}

export function strokes(canvas) {
  return pads.get(canvas)?.strokes ?? [];
}

export function clear(canvas) {
  const pad = pads.get(canvas);
  if (!pad) return;
  pad.strokes = [];
  pad.points = 0;
  pad.current = null;
  canvas.getContext("2d").clearRect(0, 0, canvas.width, canvas.height);
}
