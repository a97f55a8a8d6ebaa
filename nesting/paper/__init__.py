"""The paper of a plan: cut sheets, labels, pick list, small parts, pack lists, purchase summary."""

from nesting.paper.label_grid import LabelGrid
from nesting.paper.page_size import PageSize
from nesting.paper.write import write_paper

__all__ = ["LabelGrid", "PageSize", "write_paper"]
