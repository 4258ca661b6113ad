// The page of people: a keypad for gloved hands, and who is known here, for times without a connection.

const pad = document.querySelector(".pad");
if (pad) {
  const pin = document.getElementById("pin");
  pad.hidden = false;
  pad.addEventListener("click", (event) => {
    const digit = event.target.closest("[data-digit]")?.dataset.digit;
    if (digit === "back") {
      pin.value = pin.value.slice(0, -1);
    } else if (digit && pin.value.length < pin.maxLength) {
      pin.value += digit;
    }
  });
}

const list = document.getElementById("people");
if (list) {
  const people = [...list.querySelectorAll("[data-person]")].map(({ dataset }) => ({ id: dataset.person, name: dataset.name }));
  localStorage.setItem("shopfloor-people", JSON.stringify(people));
}
