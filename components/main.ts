import "./app/app.ts";
