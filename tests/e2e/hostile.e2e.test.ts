import { describe, expect, inject } from "vitest";
import { makeLink } from "../../components/storage/link.ts";
import { test } from "../support/page.ts";

const IMAGE = "<img src=x onerror=document.title=1>";
const SCRIPT = "<script>document.title=1</script>";

/** It turns the order of all that stands behind it on its line. */
const TURN = "\u202e";

/** A book with markup wherever a text may stand. */
const BOOK = `gylebook 1
title "${IMAGE}"
sheet s "${IMAGE}"
> ${IMAGE} ${SCRIPT}
> left${TURN}right
section "head${TURN}ing"
what${TURN} is this
section "${SCRIPT}"
a "${IMAGE}" = 1 kg # ${SCRIPT}
b "${SCRIPT}" = "${IMAGE}" within "${IMAGE}", "${SCRIPT}"
c = ${IMAGE}
asked "${IMAGE}" = ? text
table t1 "${IMAGE}"
  column x "${SCRIPT}" : text
  column y "${IMAGE}" = x
  rows
    ${IMAGE}
    "${SCRIPT}"
  end
plot "${IMAGE}"
  across t1.x
  line t1.x
`;

describe("a book from somebody else", () => {
  test("has its markup shown as text everywhere and no text turned, runs nothing and asks for nothing", async ({
    device,
  }) => {
    const { open, context } = await device();
    const asked: string[] = [];
    context.on("request", (request) => asked.push(request.url()));
    const link = await makeLink(BOOK, inject("appUrl"));
    if (link.is !== "link") throw new Error(link.says);
    const page = await open(link.url.slice(link.url.indexOf("#")));
    await page.getByText(IMAGE).first().waitFor();
    const sheet = page
      .getByRole("link", { name: IMAGE })
      .or(page.getByRole("button", { name: IMAGE }))
      .first();
    if (await sheet.isVisible()) await sheet.click();
    await page.getByText(SCRIPT).first().waitFor();
    await page.getByText("left⟨U+202E⟩right").waitFor();
    const found = await page.evaluate((turn) => {
      const counts = { images: 0, scripts: 0, turned: 0 };
      const look = (root: Document | ShadowRoot): void => {
        counts.images += root.querySelectorAll("img[src=x]").length;
        counts.scripts += [...root.querySelectorAll("script")].filter((one) =>
          one.textContent?.includes("title=1"),
        ).length;
        const texts = document.createTreeWalker(root, NodeFilter.SHOW_TEXT);
        for (let text = texts.nextNode(); text !== null; text = texts.nextNode())
          counts.turned += text.textContent?.includes(turn) ? 1 : 0;
        for (const element of root.querySelectorAll("*")) if (element.shadowRoot !== null) look(element.shadowRoot);
      };
      look(document);
      return { ...counts, title: document.title };
    }, TURN);
    expect(found).toMatchObject({ images: 0, scripts: 0, turned: 0 });
    expect(found.title).not.toBe("1");
    expect(asked.filter((url) => !url.startsWith(inject("appUrl")) && !/^(?:data|blob):/.test(url))).toEqual([]);
  });
});
