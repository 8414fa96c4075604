"""x"""


def boat_fields(c):
    return ("rest",)


def boat_got(c):
    return {"rest": "none"}
