document.body.append(document.createElement("main"));
