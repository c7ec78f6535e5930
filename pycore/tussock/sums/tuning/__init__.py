"""An aeroplane as it really is: its constants and its pilot's scatter from a notebook of measured runs.

`parameters` says what is fitted and what is believed beforehand, `model` predicts entries of a notebook from
parameters, `fit` finds the most probable ones with their covariance, `predict` draws bands from them, `worth`
tells which new measurement would narrow a band most. Helpers of one sum, no relations of their own: every
formula in them is one of the relations of the other files, called on arrays.
"""
