"""Small wrong changes in the program, one at a time: does a test notice each of them?"""
