import { expect, test } from "vitest";
import { reach } from "./dialogs.ts";

test.each(["localhost", "brew.localhost", "127.0.0.1", "127.8.0.1", "[::1]", ""])(
  "a link that is made at %j is said to open nowhere else, and the file is offered",
  (hostname) => {
    expect(reach(hostname)).toContain("no other device can reach");
    expect(reach(hostname)).toContain("send the file");
  },
);

test.each(["brew.example.org", "192.168.1.20", "localhost.example.org", "[fd00::1]"])(
  "a link that is made at %j may reach others",
  (hostname) => {
    expect(reach(hostname)).not.toContain("no other device");
  },
);
