"""Forward chaining: YAML rules compiled to small conjunctions and run stage by stage."""
