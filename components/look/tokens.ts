import { css } from "lit";

/**
 * Every colour, size and face of the screen, in one place. `<gyle-workbook>` puts them on itself; a page that uses a
 * smaller element alone adopts this sheet (`document.adoptedStyleSheets`). All may be set anew from outside, on the element.
 *
 * Paper and ink stand for a brew log; the one accent is verdigris, the green that copper takes. Ochre and madder are kept
 * for waiting and faulty, which are told by a word and a shape as well. Text on ground has a contrast of at least 4.5 : 1.
 */
export const tokens = css`
  :root,
  :host {
    --gyle-paper: light-dark(#f4f3ec, #141a18);
    --gyle-sheet: light-dark(#fbfaf5, #1a211e);
    --gyle-sunk: light-dark(#eae9df, #0e1312);
    --gyle-field: light-dark(#ffffff, #222b28);
    --gyle-ink: light-dark(#18211f, #e6e8df);
    --gyle-ink-soft: light-dark(#4b5754, #aab4ae);
    --gyle-rule: light-dark(#d6d6c9, #33403b);
    --gyle-rule-firm: light-dark(#868e84, #6f7c76);
    --gyle-accent: light-dark(#14655a, #6fc7b4);
    --gyle-accent-soft: light-dark(#d9e8e1, #1f3a35);
    --gyle-on-accent: light-dark(#ffffff, #0d1614);
    --gyle-waiting: light-dark(#725200, #e0bd62);
    --gyle-waiting-soft: light-dark(#f4e9c8, #37301a);
    --gyle-fault: light-dark(#9c1c2e, #ff9c9c);
    --gyle-fault-soft: light-dark(#f8dfdf, #42201f);

    --gyle-text: "Source Sans 3 Variable", "Source Sans 3", system-ui, sans-serif;
    --gyle-figures: "Source Code Pro Variable", "Source Code Pro", ui-monospace, monospace;
    --gyle-small: 0.8125rem;
    --gyle-body: 1rem;
    --gyle-figure: 1.0625rem;
    --gyle-section: 1.0625rem;
    --gyle-heading: clamp(1.5rem, 1.2rem + 1.2vw, 2rem);

    --gyle-gap: 0.5rem;
    --gyle-target: 44px;
    --gyle-target-wet: 72px;
    --gyle-round: 3px;
    --gyle-lift: 0 1px 2px rgb(0 0 0 / 12%), 0 8px 28px rgb(0 0 0 / 18%);
  }
`;
