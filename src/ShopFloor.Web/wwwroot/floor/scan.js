// Reads the code of a traveller by the tablet's camera. The browser's own detector is used where there is one that knows QR codes, else the library.

const pause = 120;
const widest = 1280;

/** A function that takes a canvas and gives the text of a code in it, or null. */
async function reader() {
  const own = globalThis.BarcodeDetector;
  if (own && (await own.getSupportedFormats().catch(() => [])).includes("qr_code")) {
    const detector = new own({ formats: ["qr_code"] });
    return async (canvas) => (await detector.detect(canvas))[0]?.rawValue ?? null;
  }

  const { decodeQR } = await import("/lib/qr/decode.js");
  return async (canvas) => {
    try {
      return decodeQR(canvas.getContext("2d", { willReadFrequently: true }).getImageData(0, 0, canvas.width, canvas.height));
    } catch {
      // No code in this picture.
      return null;
    }
  };
}

const reasons = {
  NotAllowedError: "The camera was not allowed. Allow it for this page in the browser's settings, or type the number.",
  NotFoundError: "This device has no camera. Type the number, or use a scanner that types.",
  NotReadableError: "The camera is used by another program. Close that one, or type the number.",
};

/** Opens the dialog and the camera; resolves with the text of the first code, or null where it was closed before. */
export async function scan() {
  const dialog = document.getElementById("scan-dialog");
  const video = dialog.querySelector("video");
  const said = document.getElementById("scan-said");
  said.textContent = "The camera opens …";
  let isOpen = true;
  dialog.addEventListener("close", () => (isOpen = false), { once: true });
  dialog.showModal();
  let stream;
  try {
    stream = await navigator.mediaDevices.getUserMedia({ audio: false, video: { facingMode: "environment", width: { ideal: widest } } });
    video.srcObject = stream;
    await video.play();
    said.textContent = "Hold the code of the traveller before the camera.";
    const read = await reader();
    const canvas = document.createElement("canvas");
    while (isOpen) {
      const scale = Math.min(1, widest / Math.max(video.videoWidth, 1));
      canvas.width = Math.round(video.videoWidth * scale);
      canvas.height = Math.round(video.videoHeight * scale);
      if (canvas.width > 0 && canvas.height > 0) {
        canvas.getContext("2d", { willReadFrequently: true }).drawImage(video, 0, 0, canvas.width, canvas.height);
        const text = await read(canvas);
        if (text && isOpen) {
          dialog.close();
          return text;
        }
      }

      await new Promise((goOn) => setTimeout(goOn, pause));
    }
  } catch (problem) {
    said.textContent = reasons[problem.name] ?? "The camera could not be used. Type the number, or use a scanner that types.";
  } finally {
    stream?.getTracks().forEach((track) => track.stop());
    video.srcObject = null;
  }

  return null;
}
