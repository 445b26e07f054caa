import { describe, expect, inject } from "vitest";
import { makeLink } from "../../components/storage/link.ts";
import { test } from "../support/page.ts";

const IMAGE = "<img src=x onerror=document.title=1>";
const SCRIPT = "<script>document.title=1</script>";

/** A book with markup wherever a text may stand. */
const BOOK = `gylebook 1
title "${IMAGE}"
sheet s "${IMAGE}"
> ${IMAGE} ${SCRIPT}
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
  test("has its markup shown as text everywhere, runs nothing and asks for nothing", async ({ device }) => {
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
    const found = await page.evaluate(() => {
      const counts = { images: 0, scripts: 0 };
      const look = (root: Document | ShadowRoot): void => {
        counts.images += root.querySelectorAll("img[src=x]").length;
        counts.scripts += [...root.querySelectorAll("script")].filter((one) =>
          one.textContent?.includes("title=1"),
        ).length;
        for (const element of root.querySelectorAll("*")) if (element.shadowRoot !== null) look(element.shadowRoot);
      };
      look(document);
      return { ...counts, title: document.title };
    });
    expect(found).toMatchObject({ images: 0, scripts: 0 });
    expect(found.title).not.toBe("1");
    expect(asked.filter((url) => !url.startsWith(inject("appUrl")) && !/^(?:data|blob):/.test(url))).toEqual([]);
  });
});
