"""The least that gunicorn and Flask can serve, for what a start costs."""

from flask import Flask

app = Flask(__name__)


@app.get("/")
def empty() -> str:
    return ""
