// The camera, looking for codes: the browser's own reader where it has one, else a library's. It fires "code" with what
// a code says, and "camera" with the reason when there is no camera to be had.
import { html, LitElement } from "lit";
import { t } from "../text.js";

/** Time between two looks. [ms] */
const PAUSE = 120;

/** @returns {Promise<{ detect: (image: HTMLVideoElement) => Promise<{ rawValue: string }[]> }>} */
async function reader() {
  const Own = /** @type {any} */ (globalThis).BarcodeDetector;
  const formats = await Own?.getSupportedFormats?.().catch(() => []);
  const Reader = formats?.includes("qr_code") ? Own : (await import("qr/decode.js")).BarcodeDetector;
  return new Reader({ formats: ["qr_code"] });
}

class TussockScanner extends LitElement {
  /** @type {MediaStream | undefined} */
  #stream;
  #on = false;

  createRenderRoot() {
    return this;
  }

  render() {
    return html`<video class="camera" playsinline muted aria-label=${t("hand.camera")}></video>`;
  }

  connectedCallback() {
    super.connectedCallback();
    this.#on = true;
    this.#look().catch((problem) => {
      // nobody wants to know of a camera that was closed before it was on
      if (this.#on) this.dispatchEvent(new CustomEvent("camera", { detail: String(problem?.name ?? problem) }));
    });
  }

  disconnectedCallback() {
    super.disconnectedCallback();
    this.#on = false;
    for (const track of this.#stream?.getTracks() ?? []) track.stop();
    this.#stream = undefined;
  }

  async #look() {
    const stream = await navigator.mediaDevices.getUserMedia({ video: { facingMode: "environment", width: { ideal: 1280 } } });
    // the screen may have been left while the person was asked
    if (!this.#on) return stream.getTracks().forEach((track) => track.stop());
    this.#stream = stream;
    await this.updateComplete;
    const video = /** @type {HTMLVideoElement} */ (this.querySelector("video"));
    video.srcObject = stream;
    await video.play();
    const detector = await reader();
    let last = "";
    while (this.#on) {
      const found = await detector.detect(video).catch(() => []);
      for (const { rawValue } of found) {
        if (rawValue && rawValue !== last) this.dispatchEvent(new CustomEvent("code", { detail: rawValue }));
        last = rawValue;
      }
      await new Promise((resolve) => setTimeout(resolve, PAUSE));
    }
  }
}
customElements.define("tussock-scanner", TussockScanner);

/**
 * @param {object} camera
 * @param {(text: string) => void} camera.read
 * @param {(reason: string) => void} camera.failed
 */
export const scanner = ({ read, failed }) =>
  html`<tussock-scanner
    @code=${(/** @type {CustomEvent} */ { detail }) => read(detail)}
    @camera=${(/** @type {CustomEvent} */ { detail }) => failed(detail)}
  ></tussock-scanner>`;
