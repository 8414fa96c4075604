"""Getting her in, proving her, getting her out: who does what, when."""
