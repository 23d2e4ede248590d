import { mount } from "svelte";
import App from "./App.svelte";

const target = document.getElementById("app");
if (!target) throw new Error('The page has no element "app" to show the playground in.');
mount(App, { target });
