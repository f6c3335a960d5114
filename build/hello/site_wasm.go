package main

func write() {}
