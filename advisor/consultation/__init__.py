"""One consultation: answers in; questions, facts and advice out."""
