"""The job sheet: advice in the order of use, as one page for the bench or as Markdown."""
