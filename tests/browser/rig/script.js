document.getElementById("script").textContent = "Script is on";
