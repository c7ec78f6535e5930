"""The six questions: where documents and sums meet."""
